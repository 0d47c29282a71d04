"""What finds a rocket again: what was seen, the flights that agree with it, lanes to walk."""
