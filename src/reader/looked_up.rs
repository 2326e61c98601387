//! The log of look-ups between the disk and the reader: read when reading begins, forgotten when that is wanted.

use std::path::Path;

use crate::drill::Log;
use crate::reader::stand::Stands;
use crate::store::{self, look_ups, stand};

/// Reads the log; damaged lines are put aside, and what is to be said of that is returned.
pub(crate) fn log(home: &Path) -> (Log, Option<String>) {
    let text = match look_ups::text(home) {
        Ok(text) => text,
        Err(error) => return (Log::default(), Some(format!("What you looked up can't be read: {error}"))),
    };
    let (log, damaged) = Log::read(&text);
    if damaged.is_empty() {
        return (log, None);
    }
    let said = match look_ups::put_aside(home, |text| Log::read(text).1) {
        Ok(path) => {
            format!("Some of what you looked up was damaged; that lies in {} as it was.", path.display())
        }
        Err(error) => format!("Some of what you looked up is damaged, and can't be put aside: {error}"),
    };
    (log, Some(said))
}

/// Forgets what was looked up and answered, also in the places that are kept; says whether there was anything.
pub fn forget_look_ups(home: &Path) -> Result<bool, store::Error> {
    if let Some(mut stands) = stand::last(home)?.and_then(|json| Stands::parse(&json)) {
        let before = stands.clone();
        stands.forget_questions();
        if stands != before {
            stand::keep(home, &stands.json())?;
        }
    }
    look_ups::forget(home)
}
