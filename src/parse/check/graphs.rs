//! Keys with leads to anywhere, as misreading may make them: nothing that walks them goes round for ever.

use proptest::prelude::*;

use super::structure;
use crate::model::{Couplet, CoupletId, Key, KeyId, Lead, Page, Target, TaxonId, Text};
use crate::parse::key::read::RawKey;
use crate::parse::resolve;

/// Keys and couplets of the largest graph.
const KEYS: u32 = 4;
const COUPLETS: u32 = 12;

fn target() -> impl Strategy<Value = Target> {
    prop_oneof![
        4 => (0..COUPLETS).prop_map(|at| Target::Couplet(CoupletId(at))),
        2 => (0..KEYS).prop_map(|at| Target::Key(KeyId(at))),
        2 => (0..KEYS + 3).prop_map(|at| Target::Taxon { name: format!("Poa {at}"), id: Some(TaxonId(at)) }),
        1 => Just(Target::Unresolved("?".to_owned())),
    ]
}

fn couplet() -> impl Strategy<Value = Couplet> {
    prop::collection::vec(prop::collection::vec(target(), 1..3), 1..4)
        .prop_map(|leads| Couplet { label: "1".to_owned(), leads: leads.into_iter().map(lead).collect() })
}

fn lead(targets: Vec<Target>) -> Lead {
    let mut also = targets;
    let to = also.remove(0);
    let text = Text::plain("Leaves hairy", Page(1));
    Lead { label: None, text, printed: String::new(), to, also, cites: None, reaches: 0, amended: false }
}

fn keys() -> impl Strategy<Value = Vec<Key>> {
    prop::collection::vec(prop::collection::vec(couplet(), 1..COUPLETS as usize), 1..=KEYS as usize)
        .prop_map(|keys| keys.into_iter().enumerate().map(key).collect())
}

fn key((at, couplets): (usize, Vec<Couplet>)) -> Key {
    let scope_id = (at % 2 == 0).then_some(TaxonId(at as u32));
    Key { id: KeyId(at as u32), title: None, scope: None, scope_id, page: Page(1), couplets }
}

/// Says whether a couplet comes back to itself, by trying every way.
fn has_cycle(key: &Key) -> bool {
    let onward = |at: usize| -> Vec<usize> {
        let leads = key.couplets.get(at).map(|couplet| couplet.leads.as_slice()).unwrap_or_default();
        leads
            .iter()
            .flat_map(|lead| std::iter::once(&lead.to).chain(&lead.also))
            .filter_map(|target| match target {
                Target::Couplet(to) => Some(to.index()),
                Target::Taxon { .. } | Target::Key(_) | Target::Unresolved(_) => None,
            })
            .collect()
    };
    (0..key.couplets.len()).any(|start| {
        let (mut open, mut seen) = (onward(start), vec![false; key.couplets.len()]);
        while let Some(at) = open.pop() {
            if at == start {
                return true;
            }
            if at < seen.len() && !seen[at] {
                seen[at] = true;
                open.extend(onward(at));
            }
        }
        false
    })
}

proptest! {
    #[test]
    fn a_key_that_goes_round_is_told_and_hangs_nothing(mut keys in keys()) {
        resolve::count(&mut keys);
        for key in &keys {
            let raw = RawKey { title: None, leads: Vec::new(), couplets: Vec::new(), blocks: 0..0 };
            let mut doubts = Vec::new();
            structure::doubts(key, Some(&raw), &mut doubts);
            let told = doubts.iter().any(|doubt| doubt.kind == crate::model::DoubtKind::Cycle);
            prop_assert_eq!(told, has_cycle(key));
        }
    }
}
