//! Which physical key means what.

/// What a key is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// A dot, 1 to 6.
    Dot(u8),
    /// The blank cell.
    Blank,
    /// A new line.
    NewLine,
    /// Erases the cell before the caret.
    Erase,
    /// Writes what was put together one key at a time; in one-hand entry, an empty half.
    Commit,
}

impl Key {
    /// The bits of a dot key, 0 for the blank, `None` for keys that write no cell.
    pub fn bits(self) -> Option<u8> {
        match self {
            Key::Dot(dot @ 1..=6) => Some(1 << (dot - 1)),
            Key::Blank => Some(0),
            _ => None,
        }
    }
}

/// The rows of keys that fingers rest on, from the top, each with how far its first key lies to the right, in quarters
/// of a key (common practice; `code` values of the UI Events KeyboardEvent code standard, section 3.1.1).
const ROWS: [(u8, &str); 4] = [
    (0, "Digit1 Digit2 Digit3 Digit4 Digit5 Digit6 Digit7 Digit8 Digit9 Digit0 Minus Equal"),
    (2, "KeyQ KeyW KeyE KeyR KeyT KeyY KeyU KeyI KeyO KeyP BracketLeft BracketRight"),
    (3, "KeyA KeyS KeyD KeyF KeyG KeyH KeyJ KeyK KeyL Semicolon Quote"),
    (5, "KeyZ KeyX KeyC KeyV KeyB KeyN KeyM Comma Period Slash"),
];

/// Six keys as the keys of dots 1 to 6, by where they lie: of the left three the innermost is dot 1, of the right three
/// dot 4. `None` when they are not six, or not all among the letters, digits and signs.
pub fn as_dots(codes: &[String]) -> Option<[&str; 6]> {
    let across = |code: &str| {
        ROWS.iter().find_map(|(offset, row)| {
            row.split(' ').position(|key| key == code).map(|n| n * 4 + usize::from(*offset))
        })
    };
    let mut lie: Vec<(usize, &str)> =
        codes.iter().map(|code| Some((across(code)?, code.as_str()))).collect::<Option<_>>()?;
    lie.sort_unstable();
    match lie[..] {
        [(_, three), (_, two), (_, one), (_, four), (_, five), (_, six)] => {
            Some([one, two, three, four, five, six])
        }
        _ => None,
    }
}

/// Keys by physical position (`KeyboardEvent.code`), so that any keyboard layout works.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyMap {
    keys: Vec<(String, Key)>,
}

impl Default for KeyMap {
    /// F D S are dots 1 2 3, J K L dots 4 5 6, Space the blank cell, Enter a new line, Backspace erases, and N
    /// commits (the first nine are common practice).
    fn default() -> Self {
        KeyMap::of(["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"])
    }
}

impl KeyMap {
    /// A map with these codes for dots 1 to 6 and the usual other keys.
    pub fn of(dots: [&str; 6]) -> KeyMap {
        let mut keys: Vec<(String, Key)> =
            dots.iter().zip(1..).map(|(code, dot)| ((*code).to_owned(), Key::Dot(dot))).collect();
        for (code, key) in
            [("Space", Key::Blank), ("Enter", Key::NewLine), ("Backspace", Key::Erase), ("KeyN", Key::Commit)]
        {
            if !dots.contains(&code) {
                keys.push((code.to_owned(), key));
            }
        }
        KeyMap { keys }
    }

    /// A map of these keys, each with what it means.
    pub fn new(keys: Vec<(String, Key)>) -> KeyMap {
        KeyMap { keys }
    }

    /// The keys, each with what it means.
    pub fn keys(&self) -> &[(String, Key)] {
        &self.keys
    }

    /// What a key means; `None` when it means nothing here. Tab never means anything: it always moves on.
    pub fn get(&self, code: &str) -> Option<Key> {
        if code == "Tab" {
            return None;
        }
        self.keys.iter().find(|(known, _)| known == code).map(|(_, key)| *key)
    }

    /// The code of a key's place, for showing it.
    pub fn code_of(&self, key: Key) -> Option<&str> {
        self.keys.iter().find(|(_, known)| *known == key).map(|(code, _)| code.as_str())
    }

    /// Whether a key can be given another meaning. Tab always moves on; those that make other keys commands would never
    /// come alone.
    pub fn can_be_given(code: &str) -> bool {
        let modifier =
            ["Control", "Alt", "Meta", "OS", "Fn", "CapsLock"].iter().any(|name| code.starts_with(name));
        !code.is_empty() && code != "Tab" && !modifier
    }

    /// Gives a key another place. What stood there before, and where the key stood before, lose their meaning.
    pub fn set(&mut self, key: Key, code: &str) {
        self.keys.retain(|(known, meaning)| known != code && *meaning != key);
        self.keys.push((code.to_owned(), key));
    }

    /// The map with left and right hand changed: dots 1 2 3 and dots 4 5 6 change places, so that each finger's
    /// strength stays with its row.
    pub fn swapped(&self) -> KeyMap {
        let swap = |key: Key| match key {
            Key::Dot(dot @ 1..=3) => Key::Dot(dot + 3),
            Key::Dot(dot @ 4..=6) => Key::Dot(dot - 3),
            other => other,
        };
        KeyMap { keys: self.keys.iter().map(|(code, key)| (code.clone(), swap(*key))).collect() }
    }

    /// Whether every dot has a key.
    pub fn is_complete(&self) -> bool {
        (1..=6).all(|dot| self.code_of(Key::Dot(dot)).is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice: F D S = dots 1 2 3, J K L = dots 4 5 6.
    #[test]
    fn the_usual_keys() {
        let map = KeyMap::default();
        for (code, dot) in [("KeyF", 1), ("KeyD", 2), ("KeyS", 3), ("KeyJ", 4), ("KeyK", 5), ("KeyL", 6)] {
            assert_eq!(map.get(code), Some(Key::Dot(dot)));
        }
        assert_eq!(map.get("Space"), Some(Key::Blank));
        assert_eq!(map.get("Tab"), None);
        assert!(map.is_complete());
    }

    #[test]
    fn remapping_and_swapping() {
        let mut map = KeyMap::default();
        map.set(Key::Dot(1), "KeyA");
        assert_eq!(map.get("KeyA"), Some(Key::Dot(1)));
        assert_eq!(map.get("KeyF"), None);
        map.set(Key::Dot(2), "KeyA");
        assert!(!map.is_complete());
        let swapped = KeyMap::default().swapped();
        assert_eq!(swapped.get("KeyF"), Some(Key::Dot(4)));
        assert_eq!(swapped.swapped(), KeyMap::default());
        map.set(Key::Erase, "Tab");
        assert_eq!(map.get("Tab"), None);
        assert!(KeyMap::can_be_given("KeyA") && KeyMap::can_be_given("ShiftLeft"));
        assert!(
            ["", "Tab", "ControlLeft", "AltRight", "MetaLeft"].iter().all(|code| !KeyMap::can_be_given(code))
        );
    }

    #[test]
    fn any_six_keys_are_dots_by_where_they_lie() {
        let six = |codes: &str| {
            let codes: Vec<String> = codes.split(' ').map(str::to_owned).collect();
            as_dots(&codes).map(|dots| dots.join(" "))
        };
        // However they came, the usual keys are the usual dots; so are those of the row above.
        let usual = ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"].join(" ");
        assert_eq!(six("KeyL KeyD KeyJ KeyS KeyK KeyF"), Some(usual));
        assert_eq!(six("KeyW KeyE KeyR KeyU KeyI KeyO"), Some("KeyR KeyE KeyW KeyU KeyI KeyO".to_owned()));
        // Over two rows, by how far they lie to the right.
        assert_eq!(six("KeyW KeyE KeyF KeyJ KeyI KeyO"), Some("KeyF KeyE KeyW KeyJ KeyI KeyO".to_owned()));
        assert_eq!(six("KeyW KeyE KeyF KeyJ KeyI"), None);
        assert_eq!(six("KeyW KeyE KeyF KeyJ KeyI KeyO KeyP"), None);
        assert_eq!(six("KeyW KeyE KeyF KeyJ KeyI F1"), None);
    }
}
