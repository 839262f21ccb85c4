//! Text with a unit to SI and back.
