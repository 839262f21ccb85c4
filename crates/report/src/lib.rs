//! Tables and charts as bytes.
