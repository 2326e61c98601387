//! The place that stands beside, or below, the one that is read: it keeps its own line and mark until it is changed for the
//! one at hand or closed. Where its area lies is `measure`'s.

use crate::reader::library::Library;
use crate::reader::measure::Flow;
use crate::reader::place::Place;
use crate::reader::sheet::{Composer, Desk, Sheet};

/// The other place with what it says.
pub(crate) struct Side {
    /// The place.
    pub(crate) place: Place,
    /// What it says, the leads of a couplet as paragraphs.
    pub(crate) sheet: Sheet,
    /// Its lines.
    pub(crate) flow: Flow,
    width: u16,
}

impl Side {
    /// Puts together what a place says, in lines of so many columns.
    pub(crate) fn of(library: &Library, place: Place, (desk, width): (&Desk<'_>, u16)) -> Self {
        // What stands beside was come to by no way.
        let desk = Desk { from: None, ..*desk };
        let sheet = unlabelled(Sheet::of(library, &place.item, &desk));
        let flow = Flow::of(&sheet, width.max(1));
        Self { place, sheet, flow, width }
    }

    /// Sets the lines anew where the width has changed.
    pub(crate) fn settle(&mut self, width: u16) {
        if self.width != width {
            self.flow = Flow::of(&self.sheet, width.max(1));
            self.width = width;
        }
    }

    /// Returns the first line in view.
    pub(crate) fn top(&self, height: u16) -> usize {
        let lead = self.place.cursor.lead;
        let anchor = self.place.anchor;
        let keep = (lead > 0 && anchor.paragraph == lead).then(|| self.flow.line_of(anchor));
        self.flow.top(anchor, keep, usize::from(height))
    }
}

/// Puts label and target of every lead into its paragraph; what can be marked can't be marked here.
fn unlabelled(mut sheet: Sheet) -> Sheet {
    for (block, lead) in sheet.blocks.iter_mut().zip(sheet.leads.drain(..)) {
        let text = Composer::new().bold(&lead.label).add(" ").text_of(&block.text);
        block.text = text.add(" ").add(&lead.target).text();
        block.hang = 2;
    }
    sheet.stops.clear();
    sheet
}
