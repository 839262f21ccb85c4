//! Contracts of the workspace itself: which crate may see which, and what stands at the top level.

#![allow(clippy::expect_used, clippy::panic)]

mod arrows;
mod docs;
mod method_book;
mod reach;
mod top_level;

use std::path::PathBuf;

/// The folder that holds the workspace.
fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the tests crate stands in the workspace")
        .to_path_buf()
}

/// What cargo knows of the workspace, without its dependencies.
fn metadata() -> cargo_metadata::Metadata {
    cargo_metadata::MetadataCommand::new()
        .manifest_path(root().join("Cargo.toml"))
        .no_deps()
        .exec()
        .expect("cargo metadata answers")
}
