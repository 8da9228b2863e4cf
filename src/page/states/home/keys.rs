//! What this browser keeps under which key, what becomes of it when a file is opened, and what it is called.

/// How what is kept under a key goes home and is merged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The record's journals: all answers of both.
    Record,
    /// A teacher's own exercises: all of both.
    Exercises,
    /// The class sheet: all slips of both.
    Class,
    /// Texts of the learner's own: all of both.
    Texts,
    /// How far texts were read: text by text.
    Places,
    /// One piece: the later of the two, and where both were changed, both.
    Whole,
    /// What was set aside: it is put aside there too.
    Aside,
    /// It belongs to this browser, this screen or this keyboard, and stays.
    Stays,
}

/// What stands in a key before the number of what was set aside from it.
const ASIDE: &str = ".aside";
/// Under which it stands what each piece was.
pub const KNOWN: &str = "home";

/// What becomes of a key, without what all keys of the page begin with; `None` for one that this page does not know.
pub fn way(key: &str) -> Option<Way> {
    if key.len() > 200 || key.chars().any(char::is_control) {
        return None;
    }
    if let Some(base) = aside_of(key) {
        return way(base).filter(|way| *way != Way::Stays).map(|_| Way::Aside);
    }
    Some(match key {
        "exercises" => Way::Exercises,
        "class" => Way::Class,
        "shelf" => Way::Texts,
        "books" | "bookmarks" => Way::Places,
        "settings" | "unit" | "goal" | "write" | "reading" | "set" | "set.many" | "desk"
        | "proofread.own" | "slips" | "course.rules" | "trial.manuscript" | "session" | "session.draft" => {
            Way::Whole
        }
        "site" | "card" | "keyboard-check" | "told-of-keys" | "try" | KNOWN => Way::Stays,
        _ if key.starts_with("work.") => Way::Whole,
        _ if key.starts_with("journal.") => Way::Record,
        _ if key.starts_with("open.") || key.starts_with("given.") => Way::Stays,
        _ => return None,
    })
}

/// The key from which something was set aside.
pub fn aside_of(key: &str) -> Option<&str> {
    key.split_once(ASIDE).map(|(base, _)| base)
}

/// What a piece is called on the page.
pub fn called(key: &str) -> &'static str {
    const WORK: [(&str, &str); 15] = [
        ("work.set.write.", "A text written from its prompt, in Write"),
        ("work.set.slate.", "A text punched from its prompt, in Write"),
        ("work.write.", "What is written in Write"),
        ("work.slate.", "What is punched in Write"),
        ("work.transcribe", "A transcription"),
        ("work.proofread.own", "Your own sheet to proofread"),
        ("work.proofread.", "A sheet to proofread"),
        ("work.round.", "An exercise, item by item"),
        ("work.several.", "The place in a set of exercises"),
        ("work.tries.", "The tries of an exercise"),
        ("work.slips.pasted", "Links of slips that are not on the class sheet yet"),
        ("work.exercise.pasted", "A link of an exercise that is not on the shelf yet"),
        ("work.pasted", "A pasted text that is not on the shelf yet"),
        ("work.trial.pasted", "A text of your own for a trial hand-in"),
        ("work.", "Work on a text"),
    ];
    match key {
        "settings" => "The settings",
        "unit" => "The unit to begin at",
        "goal" => "The goal",
        "write" => "The prompt in Write",
        "reading" => "How a sheet is shown in Read",
        "set" => "The exercise being made in Set work",
        "set.many" => "The set being made in Set work",
        "desk" => "The reading desk in Proofread",
        "proofread.own" => "The text to proofread of your own",
        "slips" => "Slips that a grader has marked",
        "course.rules" => "The rules of your course",
        "trial.manuscript" => "The trial manuscript",
        "session" | "session.draft" => "The session that was left open",
        "books" => "How far texts were read",
        "bookmarks" => "The places at which texts are open",
        "shelf" => "Your own texts",
        "class" => "The class sheet",
        "exercises" => "Your own exercises",
        _ => WORK
            .iter()
            .find(|(begins, _)| key.starts_with(begins))
            .map_or("A piece of work", |(_, name)| name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every key that the page's own sources name is known here: what is added there is taken home too, or stays by decision.
    #[test]
    fn every_key_of_the_page_is_known() {
        let mut keys: Vec<String> = Vec::new();
        let mut folders = vec![std::path::PathBuf::from("src/page")];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    if !path.ends_with("states") {
                        folders.push(path);
                    }
                    continue;
                }
                let text = std::fs::read_to_string(&path).unwrap();
                if !text.contains("store::") && !text.contains("Key") {
                    continue;
                }
                for line in text.lines() {
                    let value = line.split('"').nth(1).unwrap_or_default();
                    let named = line.trim_start().trim_start_matches("pub ").starts_with("const ")
                        && line.contains(": &str = \"");
                    let name = line.split(':').next().unwrap_or_default();
                    const NAMES: [&str; 14] = [
                        "KEY", "SET", "VIEW", "SCALE", "PROGRESS", "MARKS", "OWN", "PASTED", "SHEET",
                        "CHOSEN", "TOLD", "SESSION", "DRAFT", "PREFIX",
                    ];
                    if named && NAMES.iter().any(|one| name.ends_with(&format!("const {one}"))) {
                        keys.push(value.trim_start_matches("cellwright.").to_owned());
                    }
                    if let Some((_, task)) = line.split_once("work::name_of(\"") {
                        keys.push(format!("work.{}.0", task.split('"').next().unwrap_or_default()));
                    }
                }
            }
        }
        assert!(keys.len() >= 25, "{keys:?}");
        for key in &keys {
            assert!(way(key).is_some(), "{key} is not known: {keys:?}");
        }
    }

    #[test]
    fn what_was_set_aside_goes_home_and_what_is_the_browsers_stays() {
        assert_eq!(way("work.write.00.1.aside2"), Some(Way::Aside));
        assert_eq!(way("journal.a1.aside"), Some(Way::Aside));
        assert_eq!(way("site.aside"), None);
        assert_eq!(way("open.write"), Some(Way::Stays));
        assert_eq!(way("colour"), None);
        assert_eq!(way(&"work.".repeat(50)), None);
        assert_eq!(way("work.\u{7}"), None);
    }
}
