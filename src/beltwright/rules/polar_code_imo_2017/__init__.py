"""IMO Polar Code, MSC.385(94), in force 1 January 2017: what of it bears on structure, material and stability."""
