//! A lead and a heading set right by keys: what is asked, what is kept, and how it looks afterwards.

use super::{Reader, SIZES, check_says, flora};
use crate::amend::{self, Amendment, HeadingAt, HeadingChange, LeadAt, LeadChange, To};
use crate::model::Rank;
use crate::reader::library::Library;
use crate::reader::press::Press;
use crate::reader::state::{Effect, Event};
use crate::reader::update::update;
use crate::store::Book;

/// Presses keys and returns the amendment that the last one keeps.
#[track_caller]
fn kept(reader: &mut Reader, keys: &str) -> Amendment {
    let (before, last) = keys.rsplit_once(' ').expect("several keys");
    reader.walk(before);
    let effects = update(&mut reader.state, Event::Press(Press::parse(last).expect("a key")));
    let amend = effects.into_iter().find_map(|effect| match effect {
        Effect::Amend(name, amendment) if name == "morvane" => Some(amendment),
        Effect::Amend(..)
        | Effect::KeepStand(_)
        | Effect::Open(_)
        | Effect::Remember(_)
        | Effect::Forget
        | Effect::Quit => None,
    });
    amend.unwrap_or_else(|| panic!("nothing is kept on\n{}", reader.text()))
}

/// Amends the test flora and lets the reader go on in it.
fn go_on(reader: &mut Reader, amendments: &[Amendment]) {
    let (amended, _) = amend::apply(flora::flora(), amendments);
    let library = Library::new(Book::of("morvane", amended), None);
    update(&mut reader.state, Event::Amended(Box::new(library), "Saved.".to_owned()));
}

fn far_lead() -> LeadAt {
    LeadAt {
        words: "Leaves ovate, all from the base; calyx none".to_owned(),
        label: Some("1".to_owned()),
        key: Some("Key to the genera".to_owned()),
        page: Some(3),
    }
}

#[test]
fn the_lead_at_hand_goes_to_what_is_typed() {
    let mut reader = Reader::open((80, 24));
    let amendment = kept(&mut reader, "j A enter l i t o r enter");
    let to = LeadChange::GoesTo(To::Taxon("Morvania litoralis".to_owned()));
    assert_eq!(amendment, Amendment::Lead(far_lead(), to));
    let before = reader.state.way.clone();
    go_on(&mut reader, &[amendment]);
    assert_eq!(reader.state.way, before);
    let text = reader.text();
    assert!(text.contains("→ Morvania litoralis, treatment · 1 taxon · amended"), "{text}");
}

#[test]
fn a_lead_can_be_said_to_be_none() {
    let amendment = kept(&mut Reader::open((80, 24)), "j A n o space l e a d enter");
    assert_eq!(amendment, Amendment::Lead(far_lead(), LeadChange::NoLead));
}

#[test]
fn a_heading_can_have_another_rank_or_be_none() {
    let at = HeadingAt { words: "Skerria alba".to_owned(), page: Some(5) };
    let mut reader = Reader::open((80, 24));
    let rank = kept(&mut reader, "1 1 1 A s u b s p enter");
    assert_eq!(rank, Amendment::Heading(at.clone(), HeadingChange::Rank(Rank::Subspecies)));
    let none = kept(&mut reader, "A enter");
    assert_eq!(none, Amendment::Heading(at, HeadingChange::NoHeading));
    go_on(&mut reader, &[none]);
    assert!(reader.text().contains("Key to the species"), "{}", reader.text());
}

#[test]
fn a_line_of_a_page_can_be_said_to_be_a_heading() {
    let mut reader = Reader::open((80, 24));
    let amendment = kept(&mut reader, "r A b o a t s enter f a m enter");
    let words = "Boats land on the shore where the corona of foam ends.".to_owned();
    let at = HeadingAt { words, page: Some(3) };
    assert_eq!(amendment, Amendment::Heading(at, HeadingChange::Rank(Rank::Family)));
}

#[test]
fn the_form_fits_every_window_and_changes_nothing_when_it_is_closed() {
    for size in SIZES {
        let mut reader = Reader::open(size);
        let before = reader.screen();
        let text = reader.walk("A enter").text();
        assert!(text.contains("type to find:") && text.contains("couplet 2: Calyx inflated"), "{text}");
        assert_eq!(reader.walk("esc").screen(), before);
    }
}

#[test]
fn where_nothing_is_printed_nothing_can_be_set_right() {
    check_says("c A", &["A does nothing here"]);
}
