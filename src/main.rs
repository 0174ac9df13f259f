//! The `bayrun` program.

fn main() {}
