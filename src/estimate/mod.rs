//! A value with its standard uncertainty and the readings it rests on.
