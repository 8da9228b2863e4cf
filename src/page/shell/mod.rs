//! The frame around the rooms: their names, the theme, the caution, the first screen; starting and stopping.
//! What holds the whole page together belongs here, and nothing that a room could need.
//! It may use every floor below; nothing uses it.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`start`] | how the browser starts the page, and how the first download makes room for the whole page |
//! | [`app`] | the frame of every room |
//! | [`table`], [`first_download`], [`whole_page`] | the table of rooms, and the two that there are |
//! | [`first`] | the first screen |

pub mod app;
pub mod first;
pub mod first_download;
pub mod start;
pub mod table;
pub mod whole_page;
