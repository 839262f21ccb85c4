//! Search over designs: the oracle, islands and the front.
