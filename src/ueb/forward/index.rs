//! Super- and subscripts: where one begins and ends (11.4).

use super::symbols::{Kind, Symbol};

/// The end of the index that begins at `from`.
pub(crate) fn index_end(symbols: &[Symbol], from: usize, end: usize) -> usize {
    let mut depth = 0;
    for (k, s) in symbols.iter().enumerate().take(end).skip(from) {
        match s.kind {
            Kind::Index => depth += 1,
            Kind::IndexEnd => {
                depth -= 1;
                if depth == 0 {
                    return k;
                }
            }
            _ => {}
        }
    }
    end
}

/// The beginning of the index that ends at `from`.
pub(crate) fn index_start(symbols: &[Symbol], from: usize, start: usize) -> usize {
    let mut depth = 0;
    for k in (start..=from).rev() {
        match symbols[k].kind {
            Kind::IndexEnd => depth += 1,
            Kind::Index => {
                depth -= 1;
                if depth == 0 {
                    return k;
                }
            }
            _ => {}
        }
    }
    start
}
