//! The families that have two valid names, and which is the other of each (ICN Art. 18.5 and 18.6; N3).

/// Older and younger names.
const PAIRS: &[(&str, &str)] = &[
    ("Compositae", "Asteraceae"),
    ("Cruciferae", "Brassicaceae"),
    ("Gramineae", "Poaceae"),
    ("Guttiferae", "Clusiaceae"),
    ("Labiatae", "Lamiaceae"),
    ("Leguminosae", "Fabaceae"),
    ("Palmae", "Arecaceae"),
    ("Papilionaceae", "Fabaceae"),
    ("Umbelliferae", "Apiaceae"),
];

/// Returns the other names of a family that has several.
pub fn other_family_names(name: &str) -> Vec<&'static str> {
    let folded = super::fold(name);
    let other = |(old, young): &(&'static str, &'static str)| {
        if super::fold(old) == folded { Some(*young) } else { (super::fold(young) == folded).then_some(*old) }
    };
    PAIRS.iter().filter_map(other).collect()
}
