//! What the learner has set, for every room: one context, kept by the browser.

use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::keys::{Entry, Key, KeyMap};
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, fill, name_of, named, object, part};
use crate::practice::session::plan::LENGTHS;
use crate::ueb::Edition;

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

/// What is told of a cell that is written or erased.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SayWritten {
    /// Its dot numbers.
    #[default]
    Dots,
    /// What it reads as where that may be known, or else its dot numbers.
    Meaning,
    /// Nothing.
    Nothing,
}

/// Everything the learner has set.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// How the page looks.
    pub theme: Theme,
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// The third edition of the rules is followed, as far as it is known, and not the second.
    pub third_edition: bool,
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
    /// How long a session is, in minutes.
    pub minutes: u32,
    /// Sessions ask signs for the slate too.
    pub slate: bool,
    /// In sessions, signs that are kept are shown for a moment only.
    pub moments: bool,
    /// What is told of a cell that is written or erased.
    pub say_written: SayWritten,
    /// A telephone trembles a little at each cell that is touched in.
    pub trembles: bool,
    /// A drill stands in one text box: what is asked, the answer, how it came out.
    pub one_box: bool,
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

const SAID: [(&str, SayWritten); 3] =
    [("Dots", SayWritten::Dots), ("Meaning", SayWritten::Meaning), ("Nothing", SayWritten::Nothing)];

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

impl Stored for SayWritten {
    fn take(value: &JsValue) -> Option<Self> {
        named(value, &SAID)
    }
    fn give(&self) -> JsValue {
        name_of(self, &SAID)
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
        fill(value, "minutes", &mut set.minutes)?;
        fill(value, "theme", &mut set.theme)?;
        fill(value, "announce", &mut set.announce)?;
        fill(value, "entry", &mut set.entry)?;
        fill(value, "keys", &mut set.keys)?;
        fill(value, "say_written", &mut set.say_written)?;
        Some(set)
    }
    fn give(&self) -> JsValue {
        let mut set = self.clone();
        let mut parts = vec![
            ("theme", self.theme.give()),
            ("dot_tenths", tenths(self.dot).give()),
            ("minutes", self.minutes.give()),
            ("announce", self.announce.give()),
            ("entry", self.entry.give()),
            ("keys", self.keys.give()),
            ("say_written", self.say_written.give()),
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
    fn flags(&mut self) -> [(&'static str, &mut bool); 19] {
        [
            ("contracted", &mut self.contracted),
            ("third_edition", &mut self.third_edition),
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
            ("slate", &mut self.slate),
            ("moments", &mut self.moments),
            ("trembles", &mut self.trembles),
            ("one_box", &mut self.one_box),
        ]
    }
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            theme: Theme::System,
            contracted: true,
            third_edition: false,
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
            minutes: 10,
            slate: false,
            moments: true,
            say_written: SayWritten::Dots,
            trembles: false,
            one_box: false,
        }
    }
}

impl Settings {
    /// The edition of the rules that is followed.
    pub fn edition(&self) -> Edition {
        if self.third_edition { Edition::Third } else { Edition::Second }
    }

    /// The codes of the keys of dots 1 to 6, by which what was seen of them is kept.
    pub fn key_codes(&self) -> String {
        (1..=6).filter_map(|dot| self.keys.code_of(Key::Dot(dot))).collect::<Vec<_>>().join(" ")
    }

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
    if !LENGTHS.contains(&settings.minutes) {
        settings.minutes = Settings::default().minutes;
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
    /// Whether a teacher has set dot numbers only.
    numbers: bool,
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
        SettingsHandle { state, keep: true, own: None, numbers: false }
    }

    /// A handle over settings that hold in one place only and are not kept.
    pub fn passing(state: UseStateHandle<Settings>) -> Self {
        SettingsHandle { state, keep: false, own: None, numbers: false }
    }

    /// A handle over settings of which a teacher has set some: those hold in one place only, and what else is changed is the
    /// learner's own.
    pub fn within(state: UseStateHandle<Settings>, own: SettingsHandle) -> Self {
        SettingsHandle { state, keep: false, own: Some(Box::new(own)), numbers: false }
    }

    /// The same where a teacher has set dot numbers only: that can't be taken off.
    pub fn with_numbers_set(self, numbers: bool) -> Self {
        SettingsHandle { numbers, ..self }
    }

    /// Whether dot numbers only can't be taken off.
    pub fn numbers_are_set(&self) -> bool {
        self.numbers
    }

    /// Changes the settings and keeps them.
    pub fn change(&self, with: impl Fn(&mut Settings)) {
        self.change_by(&with);
    }

    fn change_by(&self, with: &dyn Fn(&mut Settings)) {
        // What another tab has set meanwhile stays as it is.
        let mut settings = if self.keep { load() } else { (*self.state).clone() };
        with(&mut settings);
        if self.keep {
            // What a browser does not keep is shown all the same, and the page says so.
            let _ = store::save(KEY, VERSION, &settings);
        }
        if let Some(own) = &self.own {
            own.change_by(&|settings: &mut Settings| {
                let Settings { contracted, third_edition, dot_numbers_only, hide_reading, .. } = *settings;
                with(settings);
                (settings.contracted, settings.third_edition) = (contracted, third_edition);
                (settings.dot_numbers_only, settings.hide_reading) = (dot_numbers_only, hide_reading);
            });
        }
        self.state.set(settings);
    }

    /// Takes over what is kept now.
    pub fn read_anew(&self) {
        self.state.set(load());
    }

    /// Takes over what another tab has set, told by the browser's `storage` event.
    pub fn hear(&self, event: &Event) {
        if store::changed(event).is_some_and(|key| key == KEY) {
            self.state.set(load());
        }
    }
}

/// The settings, in any room.
#[hook]
pub fn use_settings() -> SettingsHandle {
    use_context::<SettingsHandle>().expect("the shell provides the settings")
}
