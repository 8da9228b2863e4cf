//! Nothing is generated yet: the readable data files are compiled by the modules that own them.
fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
}
