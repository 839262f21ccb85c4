//! Tests of loading.
