//! Characters of print that stand for others: a mark alone, a struck sign, a fraction, a raised or lowered figure. Both ways of
//! the code use these tables.

/// Modifiers by their marks, and the characters that show them without a letter (4.2.6).
pub(crate) const SHOWN: [(char, char); 10] = [
    ('\u{301}', '´'),
    ('\u{308}', '¨'),
    ('\u{302}', 'ˆ'),
    ('\u{303}', '˜'),
    ('\u{304}', '¯'),
    ('\u{306}', '˘'),
    ('\u{327}', '¸'),
    ('\u{30c}', 'ˇ'),
    ('\u{30a}', '˚'),
    ('\u{300}', 'ˋ'),
];

/// Signs of comparison with a line through them, and without.
pub(crate) const STRUCK: [(char, char); 14] = [
    ('≠', '='),
    ('≮', '<'),
    ('≯', '>'),
    ('≰', '≤'),
    ('≱', '≥'),
    ('∉', '∈'),
    ('∌', '∋'),
    ('≁', '∼'),
    ('≉', '≈'),
    ('≢', '≡'),
    ('∦', '∥'),
    ('⊄', '⊂'),
    ('⊅', '⊃'),
    ('⊈', '⊆'),
];

/// Fractions of one character.
pub(crate) const VULGAR: &[(char, &str)] = &[
    ('½', "1/2"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
    ('⅗', "3/5"),
    ('⅘', "4/5"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
    ('⅐', "1/7"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅑', "1/9"),
    ('⅒', "1/10"),
    ('↉', "0/3"),
];

/// Characters that stand for a row of others (the Unicode standard's compatibility decompositions), such as those of
/// wide print, which are told by their place.
pub(crate) fn spelled(c: char) -> Option<&'static str> {
    const ROWS: &[(char, &str)] = &[
        ('℃', "°C"),
        ('℉', "°F"),
        ('℅', "c/o"),
        ('№', "No"),
        ('℡', "TEL"),
        ('‼', "!!"),
        ('⁇', "??"),
        ('⁈', "?!"),
        ('⁉', "!?"),
        ('‥', ".."),
        ('⅟', "1⁄"),
    ];
    const NUMERALS: [&str; 12] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];
    const SMALL: [&str; 12] = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"];
    match c {
        'Ⅰ'..='Ⅻ' => NUMERALS.get(c as usize - 'Ⅰ' as usize).copied(),
        'ⅰ'..='ⅻ' => SMALL.get(c as usize - 'ⅰ' as usize).copied(),
        _ => ROWS.iter().find(|row| row.0 == c).map(|row| row.1),
    }
}

/// Marks over two letters, and the modifier that stands before both, grouped (4.2.5).
pub(crate) const DOUBLE: &[(char, char)] =
    &[('\u{35e}', '\u{304}'), ('\u{35d}', '\u{306}'), ('\u{360}', '\u{303}')];

/// Characters that print has raised and lowered too.
pub(crate) mod level {
    pub(crate) const PLAIN: [char; 14] =
        ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '+', '−', 'n', 'i'];
    pub(crate) const RAISED: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻ⁿⁱ";
    pub(crate) const LOWERED: &str = "₀₁₂₃₄₅₆₇₈₉₊₋ₙᵢ";
}
