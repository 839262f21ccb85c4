//! Light from the mirrors to the aperture: the loss chain, image, intercept and flux.
