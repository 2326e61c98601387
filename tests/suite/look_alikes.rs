//! Look-alikes over whole floras: what the last couplet sets beside a species stands among the first ten, also by the
//! descriptions alone.

use ligule::describe::{self, Concepts, Fact};
use ligule::model::{Flora, Rank, SectionKind, Target, TaxonId};
use ligule::reader::{Rehearsal, Session};
use ligule::search::{Alike, Index};
use ligule::store::Book;
use ligule::terms::Lexicon;

use crate::presses::flora;
use crate::support::note;

/// How far down the list a sibling may stand.
const FIRST: usize = 10;

/// Siblings in a hundred that their descriptions alone set among the first ten: 88 when it was measured. One flora has a
/// genus of 52 species whose descriptions were drawn at random, so that siblings are no nearer there than any others.
const LEAST_BY_DESCRIPTION: usize = 87;

/// Siblings in a hundred that the list has among its first ten: all but one of 812 when it was measured.
const LEAST_IN_LIST: usize = 99;

/// The floras; each is set in its own way, with descriptions run in and parted.
const FLORAS: [&str; 4] = [
    "reference/sim/alder/flora.pdf",
    "reference/sim/moss/flora.pdf",
    "reference/sim/larch/flora.pdf",
    "reference/sim/juniper/flora.pdf",
];

/// Returns the pairs of species between which one couplet decides.
fn siblings(flora: &Flora) -> Vec<(TaxonId, TaxonId)> {
    let species = |target: &Target| match target {
        Target::Taxon { id: Some(id), .. } if flora.taxa[id.index()].rank == Rank::Species => Some(*id),
        Target::Taxon { .. } | Target::Couplet(_) | Target::Key(_) | Target::Unresolved(_) => None,
    };
    let couplets = flora.keys.iter().flat_map(|key| &key.couplets);
    let pairs = couplets.filter_map(|couplet| match couplet.leads.as_slice() {
        [one, other] => Some((species(&one.to)?, species(&other.to)?)),
        _ => None,
    });
    pairs.filter(|(one, other)| one != other).collect()
}

/// Returns the facts of a taxon's description.
fn described(flora: &Flora, id: TaxonId, lexicon: &Lexicon) -> Vec<Fact> {
    let taxon = &flora.taxa[id.index()];
    let stated = describe::of_taxon(taxon, &flora.legend, &Concepts::new(lexicon)).into_iter();
    let described =
        stated.filter(|stated| taxon.sections[stated.section as usize].kind == SectionKind::Description);
    described.map(|stated| stated.fact).collect()
}

fn alike(flora: &Flora, index: &Index, id: TaxonId, lexicon: &Lexicon) -> Vec<Alike> {
    let facts = described(flora, id, lexicon);
    index.alike((id, &facts), (&[], FIRST), lexicon).expect("an index that can be read")
}

/// Counts the siblings that are among the first of a list.
fn found(pairs: &[(TaxonId, TaxonId)], mut first: impl FnMut(TaxonId) -> Vec<TaxonId>) -> usize {
    let both = pairs.iter().flat_map(|(one, other)| [(*one, *other), (*other, *one)]);
    both.filter(|(one, other)| first(*one).iter().take(FIRST).any(|id| id == other)).count()
}

#[test]
fn siblings_are_among_the_first_ten_by_description_alone_and_in_the_list() {
    let (mut described, mut listed, mut all) = (0, 0, 0);
    for file in FLORAS {
        let Some(flora) = flora(file) else { return };
        let lexicon = Lexicon::with_flora(&flora.title, &flora.glossary);
        let index = Index::in_memory(&flora).expect("an index of the flora");
        let pairs = siblings(&flora);
        let alone = found(&pairs, |id| {
            let found = alike(&flora, &index, id, &lexicon);
            assert!(found.iter().all(|alike| alike.taxon != id && alike.agree <= alike.of));
            found.iter().map(|alike| alike.taxon).collect()
        });
        let book = Book::of("flora", flora);
        let session = Session { book: Some(book), index: Some(index), ..Session::default() };
        let reader = Rehearsal::open(session, (80, 24)).expect("a first screen");
        let in_list = found(&pairs, |id| reader.look_alikes(id).into_iter().map(|(id, _)| id).collect());
        let of = pairs.len() * 2;
        note(
            "look-alikes",
            &format!("{file}: of {of} siblings {alone} by description, {in_list} in the list"),
        );
        (described, listed, all) = (described + alone, listed + in_list, all + of);
    }
    assert!(all > 100, "only {all} siblings");
    assert!(described * 100 >= all * LEAST_BY_DESCRIPTION, "only {described} of {all} by description");
    assert!(listed * 100 >= all * LEAST_IN_LIST, "only {listed} of {all} in the list");
}
