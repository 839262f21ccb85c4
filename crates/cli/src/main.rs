//! Command line of tautfield.

fn main() {}
