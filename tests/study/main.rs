//! Searching and drawing held against general-purpose libraries.

#![allow(clippy::expect_used, clippy::print_stdout)]

mod drawn;
mod fields;
mod known;
mod problems;
mod rival;
