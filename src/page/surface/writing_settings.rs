//! What is seldom set for writing: how cells look, what is said of them, and the keys.

use yew::prelude::*;

use crate::page::learner::settings::{Announce, SayWritten, use_settings};
use crate::page::states::hand_over::Piece;
use crate::page::widgets::cells_line;
use crate::page::widgets::elsewhere::use_opened;
use crate::page::widgets::keys_panel::KeysPanel;
use crate::page::widgets::switch::{Switch, change};

/// The line under which it opens.
pub const LINE: &str = "Settings for writing";
/// Its class.
pub const CLASS: &str = "more writing-settings";

/// What is seldom set.
#[component]
pub fn WritingSettings() -> Html {
    let settings = use_settings();
    let (open, line) = use_opened(Piece::WritingSettings);
    let size = {
        let settings = settings.clone();
        Callback::from(move |event: InputEvent| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let dot = input.value_as_number();
            if dot.is_finite() {
                settings.change(|settings| settings.dot = dot.clamp(4.0, 24.0));
            }
        })
    };
    let announce = {
        let settings = settings.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = match select.value().as_str() {
                "words" => Announce::Words,
                "pause" => Announce::Pause,
                _ => Announce::Never,
            };
            settings.change(|settings| settings.announce = chosen);
        })
    };
    let say_written = {
        let settings = settings.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = match select.value().as_str() {
                "meaning" => SayWritten::Meaning,
                "nothing" => SayWritten::Nothing,
                _ => SayWritten::Dots,
            };
            settings.change(|settings| settings.say_written = chosen);
        })
    };
    html! {
        <details class={CLASS} {open}>
            <summary ref={line}>{ LINE }</summary>
            <div class="set">
                <Switch label="Six keys on the screen" on={settings.six_keys} set={change(&settings, |s, on| s.six_keys = on)} />
                <Switch label="Faint frames" on={settings.frames} set={change(&settings, |s, on| s.frames = on)} />
                <Switch label="Copy as braille ASCII" on={settings.copy_ascii} set={change(&settings, |s, on| s.copy_ascii = on)} />
                <Switch label="For my braille display" on={settings.braille_display} set={change(&settings, |s, on| s.braille_display = on)} />
                <Switch label="My touch keyboard types braille" on={settings.braille_keyboard} set={change(&settings, |s, on| s.braille_keyboard = on)} />
                <Switch label="My display’s keys send print: write by dot numbers" on={settings.number_entry} set={change(&settings, |s, on| s.number_entry = on)} />
                <Switch label="Drills in one text box, for a display" on={settings.one_box} set={change(&settings, |s, on| s.one_box = on)} />
                <Switch label="Tremble at each cell that I touch in" on={settings.trembles} set={change(&settings, |s, on| s.trembles = on)} />
                <Switch label="Say the dots of the cell I move to" on={settings.say_dots} set={change(&settings, |s, on| s.say_dots = on)} />
                <Switch label="Say what that cell means" on={settings.say_meaning} set={change(&settings, |s, on| s.say_meaning = on)} />
                <Switch label="Speak aloud with the browser’s voice" on={settings.speech} set={change(&settings, |s, on| s.speech = on)} />
                <label class="check"><span>{ "Size of the cells" }</span>
                    <input type="range" min="5" max="16" step="0.5" value={cells_line::decimal(settings.dot)} oninput={size} /></label>
                <label class="check"><span>{ "Say each cell I write or erase" }</span>
                    <select onchange={say_written}>
                        <option value="dots" selected={settings.say_written == SayWritten::Dots}>{ "by its dots" }</option>
                        <option value="meaning" selected={settings.say_written == SayWritten::Meaning}>{ "by what it reads as" }</option>
                        <option value="nothing" selected={settings.say_written == SayWritten::Nothing}>{ "not at all" }</option>
                    </select>
                </label>
                <label class="check"><span>{ "Announce the reading" }</span>
                    <select onchange={announce}>
                        <option value="never" selected={settings.announce == Announce::Never}>{ "never" }</option>
                        <option value="words" selected={settings.announce == Announce::Words}>{ "at a word’s end" }</option>
                        <option value="pause" selected={settings.announce == Announce::Pause}>{ "after a pause" }</option>
                    </select>
                </label>
            </div>
            <details>
                <summary>{ "Keys, hands and keyboard check" }</summary>
                <KeysPanel />
            </details>
            <p class="note">{ "A cell is written when the last key of its chord is lifted. Ctrl+Z and Ctrl+Y: undo and redo. Tab moves on out of the writing surface." }</p>
        </details>
    }
}
