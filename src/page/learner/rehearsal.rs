//! An exercise that is only shown to the one who sets it.

use yew::prelude::*;

/// Around a room (a context): it only shows an exercise to the one who sets it. Nothing done in it is kept or recorded.
#[derive(Clone, Copy, PartialEq)]
pub struct Rehearsal;

/// The name under which work is kept; empty, for nowhere, in a [`Rehearsal`].
#[hook]
pub fn use_name(name: impl FnOnce() -> String) -> String {
    if use_context::<Rehearsal>().is_some() { String::new() } else { name() }
}
