//! Wind, members, glass plates and masses.
