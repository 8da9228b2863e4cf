//! Invented texts of several kinds.

/// A kind of text: its name, and a text of at least so many bytes.
pub type Kind = (&'static str, fn(usize) -> String);

/// The kinds.
pub const ALL: [Kind; 36] = [
    ("prose", prose),
    ("invented words", invented),
    ("capitals", |size| prose(size).to_uppercase()),
    ("no line ends", |size| prose(size).replace('\n', " ")),
    ("one huge word", |size| invented(size).replace([' ', '\n'], "")),
    ("hyphens", |size| invented(size).replace(' ', "-")),
    ("digits", |size| digits(size, ' ')),
    ("one huge number", |size| digits(size, ',')),
    ("quotes", |size| {
        prose(size).split(' ').map(|w| format!("\"{w}' '{w} ")).collect::<String>()[..size].to_owned()
    }),
    ("brackets", |size| {
        prose(size).split(' ').map(|w| format!("([{{{w}). ")).collect::<String>()[..size].to_owned()
    }),
    ("any characters", anything),
    ("one run of capitals", |size| invented(size).replace([' ', '\n'], "").to_uppercase()),
    ("mixed capitals", |size| over(size, "aBCdE")),
    ("hyphens alone", |size| over(size, "-")),
    ("dashes", |size| over(size, "a—b – ")),
    ("straight quotes", |size| over(size, "\"")),
    ("opening quotes", |size| over(size, "“a ")),
    ("single quotes", |size| over(size, "'a ")),
    ("apostrophes", |size| over(size, "a'")),
    ("accents", |size| over(size, "e\u{301}")),
    ("accents alone", |size| over(size, "\u{301}\u{323}\u{308}")),
    ("commas and points", |size| over(size, "12,345.6")),
    ("digits and letters", |size| over(size, "1a2k")),
    ("dates", |size| over(size, "1/2-3:")),
    ("stars", |size| over(size, "*")),
    ("unclosed emphasis", |size| over(size, "*a **b ")),
    ("emphasis in a word", |size| over(size, "*a*b**c**")),
    ("open tags", |size| over(size, "<u>a~b ")),
    ("indices", |size| over(size, "x^{")),
    ("raised digits", |size| over(size, "x²y₃")),
    ("fractions", |size| over(size, "½1⁄2")),
    ("slashes", |size| over(size, "a/the/")),
    ("operations", |size| over(size, "a+b=c")),
    ("operations apart", |size| over(size, "a + b = c < ")),
    ("blanks", |size| over(size, " ")),
    ("empty lines", |size| over(size, "\n")),
];

/// The same again and again.
fn over(size: usize, what: &str) -> String {
    what.repeat(size.div_ceil(what.len()))
}

/// Numbers that look drawn by lot, the same each time.
struct Lot(u64);

impl Lot {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 33) as usize % end
    }
}

/// English words in sentences.
pub fn prose(size: usize) -> String {
    let words: Vec<&str> = "the ferry leaves from the quay every morning and comes back in the afternoon with letters \
        for people who live on the islands some of them stand together under the lamp and wait another stranger \
        brought nothing but questions about the weather though nobody knew where it had been through the night"
        .split(' ')
        .collect();
    let mut lot = Lot(12345);
    let mut text = String::with_capacity(size + 16);
    let mut length = 0;
    while text.len() < size {
        let word = words[lot.below(words.len())];
        if length == 0 {
            text.push_str(&word[..1].to_uppercase());
            text.push_str(&word[1..]);
        } else {
            text.push_str(word);
        }
        length += 1;
        text.push_str(if length == 12 { ".\n" } else { " " });
        length %= 12;
    }
    text
}

/// Words that are hardly ever the same twice.
fn invented(size: usize) -> String {
    let mut lot = Lot(6789);
    let mut text = String::with_capacity(size + 16);
    while text.len() < size {
        for _ in 0..2 + lot.below(3) {
            text.push_str(["st", "ch", "b", "d", "th", "l", "r", "gh", "n", "wh"][lot.below(10)]);
            text.push_str(["ea", "a", "ou", "e", "ing", "o", "er", "ar", "en", "i"][lot.below(10)]);
        }
        text.push(if lot.below(12) == 0 { '\n' } else { ' ' });
    }
    text
}

fn digits(size: usize, between: char) -> String {
    let mut lot = Lot(1);
    let mut text = String::with_capacity(size + 16);
    while text.len() < size {
        text.push_str(&lot.below(1000).to_string());
        text.push(between);
    }
    text
}

fn anything(size: usize) -> String {
    let mut lot = Lot(2);
    let mut text = String::with_capacity(size + 16);
    while text.len() < size {
        let c = match lot.below(4) {
            0 => char::from(b' ' + lot.below(95) as u8),
            1 => char::from_u32(0xa0 + lot.below(0x300) as u32).unwrap_or(' '),
            2 => char::from_u32(0x2000 + lot.below(0x300) as u32).unwrap_or(' '),
            _ => char::from_u32(lot.below(0x11_0000) as u32).unwrap_or('\n'),
        };
        text.push(c);
    }
    text
}
