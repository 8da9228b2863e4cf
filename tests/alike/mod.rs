//! Print and what is read back from its braille, compared.

/// Print with what one sign of braille may stand for made the same: straight and curled marks, dashes,
/// three dots (7.2, 7.3, 7.6).
pub fn alike(print: &str) -> String {
    let mut out = String::new();
    for c in print.chars() {
        match c {
            '“' | '”' => out.push('"'),
            '‘' | '’' => out.push('\''),
            '–' => out.push('—'),
            '…' => out.push_str("..."),
            c => out.push(c),
        }
    }
    out
}
