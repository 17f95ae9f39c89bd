"""Steel sections: flat bars, bulb flats, angles, tees and built-up profiles, as built and net, alone and on plating."""
