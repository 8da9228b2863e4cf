//! What the first download hands to the whole page that takes its place: one value, written as text on one side and read
//! on the other.

/// A piece of a room that the first download does not hold. Where it is asked for, the whole page comes and unfolds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// A link or an exercise file, opened by hand.
    OpenWork,
    /// The shelf of books.
    Shelf,
    /// A text of the learner's own goes on the shelf.
    OwnText,
    /// A text of the learner's own, on its sheet.
    OwnReader,
    /// Beside a paper book.
    PaperBook,
    /// A screen measured against a card.
    Measure,
    /// Signs of a page, learned first.
    Teach,
    /// What is seldom set for writing.
    WritingSettings,
    /// Cells written by their numbers.
    NumberEntry,
    /// Which keys arrive together.
    KeyboardCheck,
    /// What marking found.
    Marks,
    /// The link to what is written.
    CopyLink,
    /// The question after a mistake.
    AskAfter,
    /// The question after a mistake, before it is told what it was.
    AskFirst,
}

impl Piece {
    /// All of them, each with the name it has on its way.
    const ALL: [(Piece, &str); 14] = [
        (Piece::KeyboardCheck, "keyboard check"),
        (Piece::OpenWork, "open work"),
        (Piece::Shelf, "shelf"),
        (Piece::OwnText, "own text"),
        (Piece::OwnReader, "own reader"),
        (Piece::PaperBook, "paper book"),
        (Piece::Measure, "measure"),
        (Piece::Teach, "teach"),
        (Piece::WritingSettings, "writing settings"),
        (Piece::NumberEntry, "number entry"),
        (Piece::Marks, "marks"),
        (Piece::CopyLink, "copy link"),
        (Piece::AskAfter, "ask after"),
        (Piece::AskFirst, "ask first"),
    ];
}

/// Where the focus was when the first download was left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Focus {
    /// On a line that unfolds something.
    Line,
    /// In the writing surface.
    Surface,
    /// Elsewhere, or nowhere.
    #[default]
    Other,
}

impl Focus {
    const ALL: [(Focus, &str); 3] =
        [(Focus::Line, "line"), (Focus::Surface, "surface"), (Focus::Other, "other")];
}

/// What goes over.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandOver {
    /// What is to be unfolded or done at once.
    pub piece: Option<Piece>,
    /// Where the focus is.
    pub focus: Focus,
    /// The title of the text that is open.
    pub text: Option<String>,
    /// What can be undone on the writing surface, as [`crate::writing::Editor::history`] gives it.
    pub history: Option<String>,
    /// What the browser did not take into its storage: keys and texts.
    pub held: Vec<(String, String)>,
}

fn name_of<T: PartialEq>(all: &[(T, &'static str)], one: &T) -> &'static str {
    all.iter().find(|(known, _)| known == one).map_or("", |(_, name)| name)
}

fn named<T: Copy>(all: &[(T, &str)], name: &str) -> Option<T> {
    all.iter().find(|(_, known)| *known == name).map(|(one, _)| *one)
}

impl HandOver {
    /// As text: for each part a line with its name and how many bytes it has, then those bytes and a line's end.
    pub fn to_text(&self) -> String {
        let mut out = String::new();
        let mut part = |name: &str, text: &str| {
            out.push_str(&format!("{name} {}\n{text}\n", text.len()));
        };
        if let Some(piece) = &self.piece {
            part("piece", name_of(&Piece::ALL, piece));
        }
        part("focus", name_of(&Focus::ALL, &self.focus));
        if let Some(text) = &self.text {
            part("text", text);
        }
        if let Some(history) = &self.history {
            part("history", history);
        }
        for (key, text) in &self.held {
            part("key", key);
            part("held", text);
        }
        out
    }

    /// From text. A part that is not known, as a page of another version may leave it, is passed over; what is cut off
    /// or damaged ends it.
    pub fn from_text(text: &str) -> HandOver {
        let mut out = HandOver::default();
        let (mut rest, mut key) = (text, String::new());
        while let Some((head, after)) = rest.split_once('\n') {
            let Some((name, length)) = head.split_once(' ') else { break };
            let Some(end) = length.parse::<usize>().ok().filter(|end| after.is_char_boundary(*end)) else {
                break;
            };
            let (value, after) = after.split_at(end);
            match name {
                "piece" => out.piece = named(&Piece::ALL, value),
                "focus" => out.focus = named(&Focus::ALL, value).unwrap_or_default(),
                "text" => out.text = Some(value.to_owned()),
                "history" => out.history = Some(value.to_owned()),
                "key" => value.clone_into(&mut key),
                "held" => out.held.push((std::mem::take(&mut key), value.to_owned())),
                _ => {}
            }
            let Some(after) = after.strip_prefix('\n') else { break };
            rest = after;
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn some() -> HandOver {
        HandOver {
            piece: Some(Piece::WritingSettings),
            focus: Focus::Surface,
            text: Some("The log of the Kittiwake".to_owned()),
            history: Some("⠋⠻⠗⠽\n\n12 é\n".to_owned()),
            held: vec![
                ("cellwright.write".to_owned(), "{\"version\":1}".to_owned()),
                ("".to_owned(), "".to_owned()),
            ],
        }
    }

    #[test]
    fn what_is_handed_over_arrives() {
        assert_eq!(HandOver::from_text(&some().to_text()), some());
        assert_eq!(HandOver::from_text(&HandOver::default().to_text()), HandOver::default());
        for (piece, _) in Piece::ALL {
            let one = HandOver { piece: Some(piece), ..HandOver::default() };
            assert_eq!(HandOver::from_text(&one.to_text()), one);
        }
        for (focus, _) in Focus::ALL {
            let one = HandOver { focus, ..HandOver::default() };
            assert_eq!(HandOver::from_text(&one.to_text()), one);
        }
    }

    #[test]
    fn what_another_version_leaves_is_passed_over() {
        let text = "colour 3\nred\npiece 6\ncourse\npiece 7\nmeasure\n";
        assert_eq!(HandOver::from_text(text).piece, Some(Piece::Measure));
        assert_eq!(HandOver::from_text("piece 4\ncourse\n"), HandOver::default());
        assert_eq!(HandOver::from_text("text 5\n⠋⠻\n"), HandOver::default());
    }

    proptest! {
        #[test]
        fn any_texts_arrive(text in ".*", history in "(?s).*", held in prop::collection::vec(("(?s).*", "(?s).*"), 0..4)) {
            let one = HandOver { text: Some(text), history: Some(history), held, ..HandOver::default() };
            prop_assert_eq!(HandOver::from_text(&one.to_text()), one);
        }

        #[test]
        fn any_text_is_read_without_a_panic(text in "(?s).*", cut in 0usize..200) {
            let _ = HandOver::from_text(&text);
            let whole = some().to_text();
            let _ = HandOver::from_text(whole.get(..cut.min(whole.len())).unwrap_or_default());
        }
    }
}
