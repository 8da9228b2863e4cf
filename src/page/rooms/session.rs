//! A session: begins, or goes on where it was left.

use yew::prelude::*;

use crate::page::drills::session::frame::SessionView;
use crate::page::learner::journal::use_learner;
use crate::page::learner::place::choose_unit;

/// Where the session begins.
#[derive(Properties, PartialEq)]
pub struct RoomProps {
    /// The unit, from 0, that is begun at.
    #[prop_or_default]
    pub from: Option<usize>,
}

/// What tells one session's address from another's.
pub fn key(from: Option<usize>) -> String {
    from.map(|unit| unit.to_string()).unwrap_or_default()
}

/// The room.
#[component]
pub fn Room(props: &RoomProps) -> Html {
    let learner = use_learner();
    use_memo(props.from, |from| {
        if let Some(unit) = from {
            choose_unit(*unit);
        }
    });
    html! { <SessionView {learner} from={props.from} /> }
}
