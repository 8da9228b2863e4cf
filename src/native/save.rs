//! Files that are written whole or not at all: beside the old one first, which then takes its place. A disk that is full, or a
//! program that is stopped, leaves the old file as it was.

use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use super::Failure;

/// Writes a file.
pub fn file(to: &Path, content: &[u8]) -> Result<(), Failure> {
    write(to, content).map_err(|error| unwritable(to, &error))
}

/// Why it can't be written.
pub fn unwritable(to: &Path, error: &io::Error) -> Failure {
    Failure::Outside(format!("{} can't be written: {error}", to.display()))
}

fn write(to: &Path, content: &[u8]) -> io::Result<()> {
    // A name that leads to another one stays so.
    let to = to.canonicalize().unwrap_or_else(|_| to.to_owned());
    if std::fs::metadata(&to).is_ok_and(|about| !about.is_file()) {
        // A device or a pipe is written to, never replaced.
        return std::fs::write(&to, content);
    }
    let mut beside = beside(&to)?;
    beside.write_all(content)?;
    beside.as_file().sync_all()?;
    if let Ok(about) = std::fs::metadata(&to) {
        beside.as_file().set_permissions(about.permissions())?;
    }
    beside.persist(&to).map(drop).map_err(|error| error.error)
}

fn beside(to: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".cellwright-");
    // What a file has that is made in the plain way: the system takes away what the person does not want.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder_of(to))
}

/// The folder in which a file stands.
pub fn folder_of(to: &Path) -> PathBuf {
    match to.parent() {
        Some(folder) if folder != Path::new("") => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_old_file_goes_when_the_new_one_is_whole() {
        let folder = tempfile::tempdir().unwrap();
        let to = folder.path().join("page.html");
        file(&to, b"old").unwrap();
        // Who still reads the old one reads it to its end.
        let mut old = std::fs::File::open(&to).unwrap();
        file(&to, b"new and longer").unwrap();
        let mut text = String::new();
        io::Read::read_to_string(&mut old, &mut text).unwrap();
        assert_eq!((text.as_str(), std::fs::read(&to).unwrap().as_slice()), ("old", &b"new and longer"[..]));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left beside it");
        assert!(file(&folder.path().join("none/page.html"), b"new").is_err());
    }

    #[cfg(unix)]
    #[test]
    fn names_that_lead_elsewhere_and_devices_stay() {
        use std::os::unix::fs::{PermissionsExt as _, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (real, name) = (folder.path().join("real"), folder.path().join("name"));
        std::fs::write(&real, "old").unwrap();
        std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o600)).unwrap();
        symlink(&real, &name).unwrap();
        file(&name, b"new").unwrap();
        assert!(std::fs::symlink_metadata(&name).unwrap().is_symlink());
        assert_eq!(std::fs::read(&real).unwrap(), b"new");
        assert_eq!(std::fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o600);
        file(Path::new("/dev/null"), b"new").unwrap();
        assert!(!std::fs::metadata("/dev/null").unwrap().is_file());
    }
}
