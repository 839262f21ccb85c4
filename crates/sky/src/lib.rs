//! Sun position, clear sky, weather years and the sun table.
