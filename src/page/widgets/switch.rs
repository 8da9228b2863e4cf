//! A checkbox with its name beside it, and its way to a setting.

use yew::prelude::*;

use crate::page::learner::settings::{Settings, SettingsHandle};

/// A labelled checkbox.
#[derive(Properties, PartialEq)]
pub struct SwitchProps {
    /// Its name.
    pub label: AttrValue,
    /// Whether it is on.
    pub on: bool,
    /// Called with the new state.
    pub set: Callback<bool>,
}

/// A checkbox with its name beside it.
#[component]
pub fn Switch(props: &SwitchProps) -> Html {
    switch(&props.label, props.on, props.set.clone())
}

/// The same where it is no component of its own, which would weigh more.
pub fn switch(label: &str, on: bool, set: Callback<bool>) -> Html {
    let onchange = Callback::from(move |event: Event| {
        let input: web_sys::HtmlInputElement = event.target_unchecked_into();
        set.emit(input.checked());
    });
    html! {
        <label class="check"><input type="checkbox" checked={on} {onchange} /><span>{ label }</span></label>
    }
}

/// The switch "Dot numbers only", which can't be taken off where a teacher has set it.
pub fn numbers_only(settings: &SettingsHandle) -> Html {
    if settings.numbers_are_set() {
        return html! {
            <label class="check"><input type="checkbox" checked=true disabled=true /><span>{ "Dot numbers only" }</span></label>
        };
    }
    switch("Dot numbers only", settings.dot_numbers_only, change(settings, |s, on| s.dot_numbers_only = on))
}

/// A switch's way to a setting.
pub fn change(settings: &SettingsHandle, with: impl Fn(&mut Settings, bool) + 'static) -> Callback<bool> {
    let settings = settings.clone();
    Callback::from(move |on| settings.change(|settings| with(settings, on)))
}

/// What is known of the third edition, and what is done about it.
const THIRD: &str = "Of the third edition (2024) only the announcement is known here: words joined by capitals (LetterWriter) \
    take the shortform of each part, th is a groupsign in one composer’s name, and a word before the line indicator is contracted. \
    That the line indicator may show a column break in a table is not used: tables stand in columns. Its new symbols, its added \
    shortforms and its new wording are not known and stay as in 2013. The other edition’s form is your call, never a mistake.";

/// The switch for the edition of the rules, and what that means.
pub fn edition_switch(settings: &SettingsHandle) -> Html {
    let set = change(settings, |settings, on| settings.third_edition = on);
    html! {
        <>
            { switch("Third edition of the rules (2024)", settings.third_edition, set) }
            if settings.third_edition {
                <p class="note">{ THIRD }</p>
            }
        </>
    }
}
