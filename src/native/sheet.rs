//! The options about the sheet, which several commands take alike.

use std::ffi::OsStr;

use cellwright::manuscript::{Profile, Sheet};

use super::Failure;

/// The sheet, if there is such a one.
pub fn within_bounds(sheet: Sheet) -> Result<Sheet, Failure> {
    if sheet.bounded() == sheet {
        return Ok(sheet);
    }
    Err(Failure::Usage("a sheet has 12 to 60 cells in a line and 5 to 40 lines".into()))
}

/// The practice that pages follow, by its name.
pub fn profile(name: &OsStr) -> Result<Profile, Failure> {
    match &*name.to_string_lossy() {
        "full" => Ok(Profile::Full),
        "plain" => Ok(Profile::Plain),
        other => Err(Failure::Usage(format!("there is no profile '{other}': full or plain"))),
    }
}
