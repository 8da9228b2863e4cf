//! What the learner has set, for every room: one context, kept by the browser.

use wasm_bindgen::JsValue;
use yew::prelude::*;

use super::store;
use super::stored::{Stored, fill, name_of, named, object, part};
use crate::keys::{Entry, Key, KeyMap};

/// How the page looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// As the system asks.
    #[default]
    System,
    /// Paper and ink.
    Light,
    /// Dark.
    Dark,
    /// High contrast.
    Contrast,
}

impl Theme {
    /// All themes with their names.
    pub const ALL: [(Theme, &'static str, &'static str); 4] = [
        (Theme::System, "system", "As the system"),
        (Theme::Light, "light", "Light"),
        (Theme::Dark, "dark", "Dark"),
        (Theme::Contrast, "contrast", "High contrast"),
    ];

    /// The theme's key in the style sheet.
    pub fn key(self) -> &'static str {
        Theme::ALL.iter().find(|(theme, _, _)| *theme == self).map_or("system", |(_, key, _)| key)
    }
}

/// When a live reading is announced to a screen reader.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Announce {
    /// Never.
    #[default]
    Never,
    /// Each word when it is finished.
    Words,
    /// After a pause in writing.
    Pause,
}

/// Everything the learner has set.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// How the page looks.
    pub theme: Theme,
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// No braille glyph anywhere: cells are shown by their dot numbers.
    pub dot_numbers_only: bool,
    /// The line also stands as Unicode braille text, for a braille display.
    pub braille_display: bool,
    /// The reading is hidden until asked for.
    pub hide_reading: bool,
    /// Faint frames show the dots that are absent.
    pub frames: bool,
    /// Size of drawn cells: the distance between two dots, in CSS pixels.
    pub dot: f64,
    /// The on-screen six keys are shown.
    pub six_keys: bool,
    /// Copied cells are braille ASCII and not Unicode braille.
    pub copy_ascii: bool,
    /// When a live reading is announced.
    pub announce: Announce,
    /// The browser's voice says readings and dot numbers.
    pub speech: bool,
    /// The cell under the cursor is announced by its dot numbers.
    pub say_dots: bool,
    /// What the cell under the cursor means is announced.
    pub say_meaning: bool,
    /// A field takes cells by their dot numbers.
    pub number_entry: bool,
    /// A touch keyboard or an input method types braille: the browser may show it.
    pub braille_keyboard: bool,
    /// Where the keys are.
    pub keys: KeyMap,
    /// Left and right hand are changed.
    pub swap: bool,
    /// How cells are entered.
    pub entry: Entry,
    /// A cell is written at the first lift, not at the last.
    pub first_lift: bool,
}

const THEMES: [(&str, Theme); 4] = [
    ("System", Theme::System),
    ("Light", Theme::Light),
    ("Dark", Theme::Dark),
    ("Contrast", Theme::Contrast),
];

const ANNOUNCED: [(&str, Announce); 3] =
    [("Never", Announce::Never), ("Words", Announce::Words), ("Pause", Announce::Pause)];

const ENTRIES: [(&str, Entry); 3] =
    [("Chords", Entry::Chords), ("OneKey", Entry::OneKey), ("OneHand", Entry::OneHand)];

const KEYS: [(&str, Key); 4] =
    [("Blank", Key::Blank), ("NewLine", Key::NewLine), ("Erase", Key::Erase), ("Commit", Key::Commit)];

impl Stored for Theme {
    fn take(value: &JsValue) -> Option<Self> {
        named(value, &THEMES)
    }
    fn give(&self) -> JsValue {
        name_of(self, &THEMES)
    }
}

impl Stored for Announce {
    fn take(value: &JsValue) -> Option<Self> {
        named(value, &ANNOUNCED)
    }
    fn give(&self) -> JsValue {
        name_of(self, &ANNOUNCED)
    }
}

impl Stored for Entry {
    fn take(value: &JsValue) -> Option<Self> {
        named(value, &ENTRIES)
    }
    fn give(&self) -> JsValue {
        name_of(self, &ENTRIES)
    }
}

impl Stored for Key {
    fn take(value: &JsValue) -> Option<Self> {
        named(value, &KEYS).or_else(|| {
            let dot: u32 = part(value, "Dot")?;
            (1..=6).contains(&dot).then_some(Key::Dot(dot as u8))
        })
    }
    fn give(&self) -> JsValue {
        match self {
            Key::Dot(dot) => object(&[("Dot", u32::from(*dot).give())]),
            other => name_of(other, &KEYS),
        }
    }
}

impl Stored for KeyMap {
    fn take(value: &JsValue) -> Option<Self> {
        part(value, "keys").map(KeyMap::new)
    }
    fn give(&self) -> JsValue {
        object(&[("keys", self.keys().to_vec().give())])
    }
}

impl Stored for Settings {
    fn take(value: &JsValue) -> Option<Self> {
        let mut set = Settings::default();
        for (name, flag) in set.flags() {
            fill(value, name, flag)?;
        }
        // In tenths, so that no other number than whole ones is kept.
        let mut tenths = tenths(set.dot);
        fill(value, "dot_tenths", &mut tenths)?;
        set.dot = f64::from(tenths) / 10.0;
        fill(value, "theme", &mut set.theme)?;
        fill(value, "announce", &mut set.announce)?;
        fill(value, "entry", &mut set.entry)?;
        fill(value, "keys", &mut set.keys)?;
        Some(set)
    }
    fn give(&self) -> JsValue {
        let mut set = self.clone();
        let mut parts = vec![
            ("theme", self.theme.give()),
            ("dot_tenths", tenths(self.dot).give()),
            ("announce", self.announce.give()),
            ("entry", self.entry.give()),
            ("keys", self.keys.give()),
        ];
        parts.extend(set.flags().map(|(name, flag)| (name, flag.give())));
        object(&parts)
    }
}

fn tenths(length: f64) -> u32 {
    (length * 10.0).round() as u32
}

impl Settings {
    /// What is on or off, by the names under which it is kept.
    fn flags(&mut self) -> [(&'static str, &mut bool); 14] {
        [
            ("contracted", &mut self.contracted),
            ("dot_numbers_only", &mut self.dot_numbers_only),
            ("braille_display", &mut self.braille_display),
            ("hide_reading", &mut self.hide_reading),
            ("frames", &mut self.frames),
            ("six_keys", &mut self.six_keys),
            ("copy_ascii", &mut self.copy_ascii),
            ("speech", &mut self.speech),
            ("say_dots", &mut self.say_dots),
            ("say_meaning", &mut self.say_meaning),
            ("number_entry", &mut self.number_entry),
            ("braille_keyboard", &mut self.braille_keyboard),
            ("swap", &mut self.swap),
            ("first_lift", &mut self.first_lift),
        ]
    }
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            theme: Theme::System,
            contracted: true,
            dot_numbers_only: false,
            braille_display: false,
            hide_reading: false,
            frames: false,
            dot: 9.0,
            six_keys: true,
            copy_ascii: false,
            announce: Announce::Never,
            speech: false,
            say_dots: true,
            say_meaning: false,
            number_entry: false,
            braille_keyboard: false,
            keys: KeyMap::default(),
            swap: false,
            entry: Entry::Chords,
            first_lift: false,
        }
    }
}

impl Settings {
    /// The keys, with the hands changed where that is set.
    pub fn key_map(&self) -> KeyMap {
        if self.swap { self.keys.swapped() } else { self.keys.clone() }
    }
}

const KEY: &str = "settings";
const VERSION: u32 = 1;

/// The settings as the browser keeps them.
pub fn load() -> Settings {
    let mut settings: Settings = store::load(KEY, VERSION).unwrap_or_default();
    if !(4.0..=24.0).contains(&settings.dot) {
        settings.dot = Settings::default().dot;
    }
    settings
}

/// The settings and the way to change them, handed to every room.
#[derive(Clone, PartialEq)]
pub struct SettingsHandle {
    state: UseStateHandle<Settings>,
    keep: bool,
    /// The learner's own, where these hold in one place only.
    own: Option<Box<SettingsHandle>>,
}

impl std::ops::Deref for SettingsHandle {
    type Target = Settings;
    fn deref(&self) -> &Settings {
        &self.state
    }
}

impl SettingsHandle {
    /// The handle over the shell's state.
    pub fn new(state: UseStateHandle<Settings>) -> Self {
        SettingsHandle { state, keep: true, own: None }
    }

    /// A handle over settings that hold in one place only and are not kept.
    pub fn passing(state: UseStateHandle<Settings>) -> Self {
        SettingsHandle { state, keep: false, own: None }
    }

    /// A handle over settings of which a teacher has set some: those hold in one place only, and what else is changed is the
    /// learner's own.
    pub fn within(state: UseStateHandle<Settings>, own: SettingsHandle) -> Self {
        SettingsHandle { state, keep: false, own: Some(Box::new(own)) }
    }

    /// Changes the settings and keeps them.
    pub fn change(&self, with: impl FnOnce(&mut Settings)) {
        let mut settings = (*self.state).clone();
        with(&mut settings);
        self.put(settings);
    }

    fn put(&self, settings: Settings) {
        if self.keep {
            // A browser that keeps nothing still shows the change.
            let _ = store::save(KEY, VERSION, &settings);
        }
        if let Some(own) = &self.own {
            own.put(Settings {
                contracted: own.contracted,
                dot_numbers_only: own.dot_numbers_only,
                hide_reading: own.hide_reading,
                ..settings.clone()
            });
        }
        self.state.set(settings);
    }
}

/// The settings, in any room.
#[hook]
pub fn use_settings() -> SettingsHandle {
    use_context::<SettingsHandle>().expect("the shell provides the settings")
}
