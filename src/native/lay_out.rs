//! `cellwright lay-out`: print with CommonMark marks on standard input, or a braille file to be laid out anew; laid-out
//! braille (.brf) on standard output.

use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;
use cellwright::manuscript::reflow;

use super::Failure;
use super::stream;

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut sheet = Sheet::default();
    let mut braille = false;
    let mut from = Sheet::default();
    while let Some(arg) = args.next()? {
        match arg {
            Long("cells") => sheet.cells = args.value()?.parse()?,
            Long("lines") => sheet.lines = args.value()?.parse()?,
            Long("uncontracted") => sheet.contracted = false,
            Long("no-page-numbers") => sheet.numbered = false,
            Long("divide") => sheet.divide = true,
            Long("from-braille") => braille = true,
            Long("from-cells") => from.cells = args.value()?.parse()?,
            _ => return Err(arg.unexpected().into()),
        }
    }
    if sheet.bounded() != sheet {
        return Err(Failure::Usage("a sheet has 12 to 60 cells in a line and 5 to 40 lines".into()));
    }
    let text = stream::whole()?;
    let manuscript = if braille {
        let old = Sheet { contracted: sheet.contracted, ..from }.bounded();
        reflow::anew(&BrailleFile::from_text(&text).cells(), old, sheet)
    } else {
        Manuscript::from_print(&text, sheet)
    };
    for forced in manuscript.forced() {
        eprintln!(
            "cellwright: page {}, line {}: longer than a line, broken (6.10)",
            forced.page, forced.line
        );
    }
    stream::print(&BrailleFile::from_pages(&manuscript.lines()).to_text())
}
