//! What the learner has set, for every room: one context, kept by the browser.

use serde::{Deserialize, Serialize};
use yew::prelude::*;

use super::store;
use crate::keys::{Entry, KeyMap};

/// How the page looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
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
    #[serde(rename = "dot_tenths", with = "tenths")]
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
    /// With the dot numbers, what the cell means.
    pub say_meaning: bool,
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

/// A length in tenths of a pixel, so that no other number than whole ones is kept.
mod tenths {
    use serde::{Deserialize, Deserializer, Serializer};

    pub fn serialize<S: Serializer>(value: &f64, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_u32((value * 10.0).round() as u32)
    }

    pub fn deserialize<'a, D: Deserializer<'a>>(from: D) -> Result<f64, D::Error> {
        Ok(f64::from(u32::deserialize(from)?) / 10.0)
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
        SettingsHandle { state, keep: true }
    }

    /// A handle over settings that hold in one place only and are not kept.
    pub fn passing(state: UseStateHandle<Settings>) -> Self {
        SettingsHandle { state, keep: false }
    }

    /// Changes the settings and keeps them.
    pub fn change(&self, with: impl FnOnce(&mut Settings)) {
        let mut settings = (*self.state).clone();
        with(&mut settings);
        if self.keep {
            // A browser that keeps nothing still shows the change.
            let _ = store::save(KEY, VERSION, &settings);
        }
        self.state.set(settings);
    }
}

/// The settings, in any room.
#[hook]
pub fn use_settings() -> SettingsHandle {
    use_context::<SettingsHandle>().expect("the shell provides the settings")
}
