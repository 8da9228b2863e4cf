//! The room "Transcribe": the print line by line above the writing, marks at the cell, and the check before hand-in.

pub mod check_panel;
pub mod copyholder;
pub mod course_rules;
pub mod desk;
pub mod desk_checks;
pub mod desk_controls;
pub mod desk_copy;
pub mod desk_files;
pub mod desk_marking;
pub mod desk_state;
pub mod desk_tour;
pub mod marked_work;
pub mod own_slips;
pub mod trial_manuscript;

use yew::prelude::*;

use crate::page::rooms::transcribe::desk::Desk;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Transcribe" }</h1>
            <Desk />
        </>
    }
}
