"""Steel weight of plating and frames, with centres and stated allowances."""
