//! Letters that may be an abbreviation with be, con or dis in it (10.6.4).

/// In small letters, in order. Belg, Bev, conn, cont and dist are the standard's examples of 10.6.4; the others are common
/// knowledge. Words of the language, as bet, are none.
const SHORTENED: [&str; 22] = [
    "bec", "belg", "bev", "con", "conc", "cond", "conf", "cong", "conj", "conn", "cons", "const", "constr",
    "cont", "contd", "contr", "conv", "dis", "disc", "disp", "dist", "distr",
];

/// Whether these small letters may stand for a longer word, so that print alone does not say whether the lower groupsign
/// for "be", "con" or "dis" is used (10.6.4).
pub fn may_be_shortened(letters: &str) -> bool {
    SHORTENED.binary_search(&letters).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_is_in_order_and_holds_the_examples() {
        assert!(SHORTENED.is_sorted());
        assert!(["belg", "bev", "conn", "cont", "dist"].into_iter().all(may_be_shortened));
        assert!(!["bee", "disk", "become"].into_iter().any(may_be_shortened));
    }
}
