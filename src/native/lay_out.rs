//! `cellwright lay-out`: print with CommonMark marks on standard input, laid-out braille (.brf) on standard output.

use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;

use super::Failure;
use super::stream;

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut sheet = Sheet::default();
    while let Some(arg) = args.next()? {
        match arg {
            Long("cells") => sheet.cells = args.value()?.parse()?,
            Long("lines") => sheet.lines = args.value()?.parse()?,
            Long("uncontracted") => sheet.contracted = false,
            Long("no-page-numbers") => sheet.numbered = false,
            _ => return Err(arg.unexpected().into()),
        }
    }
    if sheet.bounded() != sheet {
        return Err(Failure::Usage("a sheet has 12 to 60 cells in a line and 5 to 40 lines".into()));
    }
    let manuscript = Manuscript::from_print(&stream::whole()?, sheet);
    for forced in manuscript.forced() {
        eprintln!(
            "cellwright: page {}, line {}: longer than a line, broken (6.10)",
            forced.page, forced.line
        );
    }
    stream::print(&BrailleFile::from_pages(&manuscript.lines()).to_text())
}
