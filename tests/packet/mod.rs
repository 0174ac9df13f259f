//! The packet as a set of files: a made-up packet with every kind of block, printed and read back.

mod air;
mod crew;
mod demo;
mod hostile;
mod plans;
mod pump;
mod set;
mod since;
mod wires;
