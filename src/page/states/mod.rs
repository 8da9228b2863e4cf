//! What a room or the page is, as plain data: states, actions and pure reducers, without a type of the browser.
//! They are the only floor of the page that is compiled and tested natively too (`cargo test --lib page::states`).
//! They may use what lies below the page, and no other floor.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`hand_over`] | what the first download hands to the whole page |

pub mod hand_over;
