//! What is doubtful in a flora, grouped by kind, the worst first.

use crate::model::{Doubt, DoubtKind};

/// Returns the place of a kind among all, the worst first, and its heading: what hides text comes before what leads
/// astray, and that before what is only odd.
fn standing(kind: DoubtKind) -> (u8, &'static str) {
    match kind {
        DoubtKind::Unreadable => (0, "could not be read"),
        DoubtKind::Cycle => (1, "keys that go round in a circle"),
        DoubtKind::UnresolvedTarget => (2, "leads whose target was not found"),
        DoubtKind::UnreachedCouplet => (3, "couplets that no lead arrives at"),
        DoubtKind::LonelyLead => (4, "couplets with a single lead"),
        DoubtKind::NameDiffers => (5, "names that differ between key and heading"),
        DoubtKind::OddLabel => (6, "labels that do not fit their neighbours"),
        DoubtKind::NotKeyed => (7, "treated taxa that their key does not name"),
        DoubtKind::Contradicted => (8, "leads that the descriptions of all their taxa contradict"),
        DoubtKind::NoTreatment => (9, "keyed names without a treatment"),
        DoubtKind::Other => (10, "other doubts"),
    }
}

/// Returns the doubts by kind with the kind's heading; within a kind they keep their order.
pub(crate) fn grouped(doubts: &[Doubt]) -> Vec<(&'static str, Vec<&Doubt>)> {
    let mut sorted: Vec<&Doubt> = doubts.iter().collect();
    sorted.sort_by_key(|doubt| standing(doubt.kind).0);
    let groups = sorted.chunk_by(|a, b| a.kind == b.kind);
    groups.map(|group| (standing(group[0].kind).1, group.to_vec())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{DoubtAbout, Page};

    #[test]
    fn the_worst_kind_comes_first_and_doubts_of_a_kind_keep_their_order() {
        let doubt = |kind, text: &str| Doubt {
            kind,
            page: Page(1),
            text: text.to_owned(),
            advice: String::new(),
            about: DoubtAbout::Book,
        };
        let doubts = [
            doubt(DoubtKind::NotKeyed, "a"),
            doubt(DoubtKind::UnresolvedTarget, "b"),
            doubt(DoubtKind::NotKeyed, "c"),
            doubt(DoubtKind::Unreadable, "d"),
        ];
        let texts: Vec<Vec<&str>> = grouped(&doubts)
            .into_iter()
            .map(|(_, group)| group.into_iter().map(|doubt| doubt.text.as_str()).collect())
            .collect();
        assert_eq!(texts, [vec!["d"], vec!["b"], vec!["a", "c"]]);
    }
}
