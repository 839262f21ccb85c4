//! The scenario file: read, checked, in SI; the space of designs.
