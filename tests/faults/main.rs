//! What goes wrong on real machines: killed in the middle of a save, disks
//! that are full or may only be read, clocks set back, other programs at the
//! same file. The job must be whole after each, and the message plain.

mod at_once;
mod disks;
mod saves;
mod study;
