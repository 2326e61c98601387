//! What of the state is seen: the lead at hand, the definition of the marked word, letters, lines in view. Nothing is changed.

use crate::model::{KeyId, Lead};
use crate::reader::ascii::{self, Signs};
use crate::reader::measure;
use crate::reader::place::{Anchor, Item, Screen};
use crate::reader::sheet::{self, Pane};
use crate::reader::state::{Overlay, State};

impl State {
    /// Returns the number of the lead at hand.
    pub(crate) fn lead(&self) -> usize {
        self.way.here.cursor.lead.min(self.sheet.leads.len().saturating_sub(1))
    }

    /// Returns the lead at hand with its key.
    pub(crate) fn lead_at_hand(&self) -> Option<(KeyId, &Lead)> {
        self.lead_number(self.lead())
    }

    /// Returns a lead of the couplet by its number, counted from 0.
    pub(crate) fn lead_number(&self, at: usize) -> Option<(KeyId, &Lead)> {
        let Item::Couplet(key, couplet) = &self.way.here.item else { return None };
        let couplet = self.library.as_ref()?.book.key(*key)?.couplet(*couplet)?;
        Some((*key, couplet.leads.get(at)?))
    }

    /// Returns how many columns a lead's text has.
    pub(crate) fn lead_width(&self) -> usize {
        usize::from(measure::text_columns(&self.sheet, self.screen(), measure::main_width(self)))
    }

    /// Returns the definition to be shown, or the list of letters.
    pub(crate) fn pane(&self) -> Option<Pane> {
        let pane = self.unfolded_pane()?;
        Some(if self.signs == Signs::Ascii { ascii::pane(pane) } else { pane })
    }

    fn unfolded_pane(&self) -> Option<Pane> {
        let text = !self.screen().is_list();
        if self.overlay == Overlay::Letters && self.screen() == Screen::Couplet {
            let mut letters = self.letters();
            let order: Vec<char> = self.keys.signs().collect();
            let place = |letter: char| order.iter().position(|other| *other == letter);
            letters.sort_by_key(|(letter, stop)| (place(*letter), *stop));
            letters.dedup_by_key(|(letter, _)| *letter);
            let words = letters.iter().map(|(letter, stop)| (*letter, self.word(*stop)));
            return Some(sheet::letters_pane(words));
        }
        let stop = self.way.here.cursor.stop.filter(|_| text)?;
        let mut pane = sheet::pane(self.library.as_ref()?, &self.sheet, stop)?;
        pane.goes_on = self.keys.fill(&pane.goes_on);
        for text in &mut pane.texts {
            // A key stands behind all printed words of its paragraph, so their styles stay where they are.
            text.plain = self.keys.fill(&text.plain);
        }
        Some(pane)
    }

    /// Returns the printed words of a stop.
    pub(crate) fn word(&self, stop: usize) -> &str {
        let found = self.sheet.stops.get(stop).and_then(|stop| {
            let text = &self.sheet.blocks.get(stop.block)?.text;
            text.plain.get(stop.range.clone())
        });
        found.unwrap_or_default()
    }

    /// Returns the letters with the stops that they mark: all of a couplet, else those in view.
    ///
    /// Words that lead to the same place have the same letter.
    pub(crate) fn letters(&self) -> Vec<(char, usize)> {
        let mut seen = 0..self.sheet.stops.len();
        let seen: Vec<usize> = match self.screen() {
            Screen::Couplet => seen.collect(),
            Screen::Printed => seen.filter(|stop| self.in_view(*stop)).collect(),
            screen if !screen.is_list() => {
                let top = seen.find(|stop| self.in_view(*stop));
                top.into_iter().chain(seen.take_while(|stop| self.in_view(*stop))).collect()
            }
            _ => Vec::new(),
        };
        let mut free = self.keys.signs();
        let mut letters: Vec<(char, usize)> = Vec::new();
        for stop in seen {
            let same = |(_, other): &&(char, usize)| self.sheet.stops[*other].go == self.sheet.stops[stop].go;
            let letter = letters.iter().find(same).map(|(letter, _)| *letter).or_else(|| free.next());
            letters.extend(letter.map(|letter| (letter, stop)));
        }
        letters
    }

    /// Returns the line that a stop begins on.
    pub(crate) fn line_of_stop(&self, stop: usize) -> Option<usize> {
        let stop = self.sheet.stops.get(stop)?;
        Some(self.flow.line_of(Anchor { paragraph: stop.block, byte: stop.range.start }))
    }

    /// Returns the first line in view of a text or list, given the rows of its area.
    pub(crate) fn top(&self, height: u16) -> usize {
        let keep = self.way.here.cursor.stop.and_then(|stop| self.line_of_stop(stop));
        self.flow.top(self.way.here.anchor, keep, usize::from(height))
    }

    /// Says whether a stop begins on a line in view of a text, and on a page as printed that all of it is in view.
    pub(crate) fn in_view(&self, stop: usize) -> bool {
        let body = measure::areas(self).body;
        let top = self.top(body.height);
        let line = self.line_of_stop(stop);
        line.is_some_and(|line| (top..top + usize::from(body.height)).contains(&line))
            && measure::page::shows(self, stop)
    }
}
