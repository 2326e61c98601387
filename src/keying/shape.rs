//! The words for the outline of a flat part by its length to width, for each place where it may be widest.
//!
//! Values of the Systematics Association's committee (Taxon 11, 1962: 145–156, 245–247), as a university glossary gives
//! them. They never overrule what a flora's own glossary says.

/// Where a flat part is widest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Widest {
    /// In the middle, the sides curved.
    Middle,
    /// Nowhere: the sides are parallel.
    Parallel,
    /// Below the middle.
    Below,
    /// Above the middle.
    Above,
}

/// A class: from which to which ratio of length to width, and its word.
type Class = (f32, f32, &'static str);

/// How far a class that the source gives as one ratio reaches to both sides; ours.
const ONE_RATIO: f32 = 0.08;

const MIDDLE: &[Class] = &[
    (3.0, 6.0, "narrowly elliptic"),
    (1.5, 2.0, "elliptic"),
    (1.2, 1.2, "widely elliptic"),
    (1.0, 1.0, "circular"),
    (5.0 / 6.0, 5.0 / 6.0, "oblate"),
    (0.5, 2.0 / 3.0, "transversely elliptic"),
];

const PARALLEL: &[Class] = &[
    (12.0, f32::INFINITY, "linear"),
    (3.0, 6.0, "narrowly oblong"),
    (1.5, 2.0, "oblong"),
    (1.2, 1.2, "widely oblong"),
    (1.0, 1.0, "square"),
];

const BELOW: &[Class] = &[
    (3.0, f32::INFINITY, "lanceolate"),
    (1.5, 2.0, "ovate"),
    (1.2, 1.2, "widely ovate"),
    (1.0, 1.0, "very widely ovate"),
];

const ABOVE: &[Class] = &[
    (3.0, f32::INFINITY, "oblanceolate"),
    (1.5, 2.0, "obovate"),
    (1.2, 1.2, "widely obovate"),
    (1.0, 1.0, "very widely obovate"),
];

impl Widest {
    /// Every place, in the order in which they are told.
    pub const ALL: [Self; 4] = [Self::Below, Self::Middle, Self::Above, Self::Parallel];

    /// Returns the words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Middle => "widest at the middle",
            Self::Parallel => "sides parallel",
            Self::Below => "widest below the middle",
            Self::Above => "widest above the middle",
        }
    }

    fn classes(self) -> &'static [Class] {
        match self {
            Self::Middle => MIDDLE,
            Self::Parallel => PARALLEL,
            Self::Below => BELOW,
            Self::Above => ABOVE,
        }
    }
}

/// Returns the word for an outline, or the two between which the source leaves a gap; nothing beyond its last class.
pub fn outline(ratio: f32, widest: Widest) -> Option<String> {
    let classes = widest.classes();
    let (low, high) = (|class: &Class| limits(class).0, |class: &Class| limits(class).1);
    if let Some(class) = classes.iter().find(|class| (low(class)..=high(class)).contains(&ratio)) {
        return Some(class.2.to_owned());
    }
    let longer = classes.iter().rev().find(|class| low(class) > ratio)?;
    let shorter = classes.iter().find(|class| high(class) < ratio)?;
    Some(format!("between {} and {}", shorter.2, longer.2))
}

fn limits((low, high, _): &Class) -> (f32, f32) {
    if low < high { (*low, *high) } else { (low * (1.0 - ONE_RATIO), high * (1.0 + ONE_RATIO)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_outline(length: f32, width: f32, widest: Widest, word: Option<&str>) {
        assert_eq!(outline(length / width, widest).as_deref(), word);
    }

    #[test]
    fn the_worked_values_of_the_source_have_its_words() {
        check_outline(60.0, 15.0, Widest::Below, Some("lanceolate"));
        check_outline(30.0, 18.0, Widest::Below, Some("ovate"));
        check_outline(50.0, 4.0, Widest::Parallel, Some("linear"));
    }

    #[test]
    fn every_class_of_the_source_has_its_word() {
        for (ratio, widest, word) in [
            (4.5, Widest::Middle, "narrowly elliptic"),
            (1.75, Widest::Middle, "elliptic"),
            (1.2, Widest::Middle, "widely elliptic"),
            (1.0, Widest::Middle, "circular"),
            (5.0 / 6.0, Widest::Middle, "oblate"),
            (0.6, Widest::Middle, "transversely elliptic"),
            (4.0, Widest::Parallel, "narrowly oblong"),
            (1.6, Widest::Parallel, "oblong"),
            (1.2, Widest::Parallel, "widely oblong"),
            (1.0, Widest::Parallel, "square"),
            (1.2, Widest::Below, "widely ovate"),
            (1.0, Widest::Below, "very widely ovate"),
            (4.0, Widest::Above, "oblanceolate"),
            (1.8, Widest::Above, "obovate"),
        ] {
            check_outline(ratio, 1.0, widest, Some(word));
        }
    }

    #[test]
    fn a_gap_of_the_chart_is_between_its_neighbours() {
        check_outline(2.5, 1.0, Widest::Below, Some("between ovate and lanceolate"));
        check_outline(9.0, 1.0, Widest::Parallel, Some("between narrowly oblong and linear"));
    }

    #[test]
    fn beyond_the_chart_there_is_no_word() {
        check_outline(0.2, 1.0, Widest::Parallel, None);
        check_outline(8.0, 1.0, Widest::Middle, None);
    }
}
