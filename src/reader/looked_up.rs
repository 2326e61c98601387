//! The log of look-ups as the reader begins with it: read off the disk, with damaged lines put aside and told.

use std::path::Path;

use crate::drill::Log;
use crate::store::look_ups;

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
