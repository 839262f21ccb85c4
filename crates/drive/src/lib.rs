//! How a shared drive turns a string: normals, residuals, stretch and tolerances.
