//! From a case and a design to a summary: the one place that joins the physics.
