//! Lengths: millimetres inside, `"3-1/2 in"` or `"90 cm"` at the door.
