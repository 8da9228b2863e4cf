//! The native helper: serves the page, and offers the same engine at a terminal.

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    println!("cellwright {}", env!("CARGO_PKG_VERSION"));
}

#[cfg(target_arch = "wasm32")]
fn main() {}
