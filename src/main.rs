//! The native helper: serves the page, and offers the same engine at a terminal.

#[cfg(not(target_arch = "wasm32"))]
mod native;

#[cfg(not(target_arch = "wasm32"))]
fn main() -> std::process::ExitCode {
    native::run(std::env::args_os().skip(1))
}

#[cfg(target_arch = "wasm32")]
fn main() {}
