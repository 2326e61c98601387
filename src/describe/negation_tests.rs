//! Denial, sentence by sentence: what is absent never counts as present (G14–G17).

use crate::describe::tests::check;

/// A sentence, and facts that it says; those behind `!` it must not say.
const CASES: &[(&str, &[&str])] = &[
    ("Spines absent", &["spine not there", "!spine there"]),
    ("Spines none", &["spine not there", "!spine there"]),
    ("Spines 0", &["spine not there", "!spine there"]),
    ("Spines wanting", &["spine not there", "!spine there"]),
    ("Spines lacking", &["spine not there", "!spine there"]),
    ("Without spines", &["spine not there", "!spine there"]),
    ("Stems without spines", &["stem/spine not there", "!stem/spine there"]),
    ("Stems lacking spines", &["stem/spine not there", "!stem/spine there"]),
    ("Stems destitute of spines", &["stem/spine not there", "!stem/spine there"]),
    ("Stems devoid of spines", &["stem/spine not there", "!stem/spine there"]),
    ("Stems not spiny", &["stem not spiny", "stem/spine not there", "!stem spiny", "!stem/spine there"]),
    ("Stems never spiny", &["stem not spiny", "!stem spiny"]),
    ("Stems unarmed", &["stem unarmed", "stem/spine not there"]),
    ("Stems spineless", &["stem/spine not there", "!stem/spine there"]),
    ("Stems thornless", &["stem/spine not there"]),
    ("Stems with no spines", &["stem/spine not there", "!stem/spine there"]),
    ("Stems spiny", &["stem spiny", "stem/spine there"]),
    ("Spines present", &["spine there"]),
    ("Stipules absent", &["stipule not there", "!stipule there"]),
    ("Leaves exstipulate", &["leaf/stipule not there"]),
    ("Leaves without stipules, hairy", &["leaf/stipule not there", "leaf hairy", "!leaf not"]),
    (
        "Leaves without green stipules",
        &["leaf/stipule not there", "!leaf/stipule green", "!leaf/stipule not green"],
    ),
    ("Leaves glabrous", &["leaf glabrous", "leaf/hair not there", "!leaf/hair there"]),
    ("Leaves hairless", &["leaf/hair not there"]),
    ("Leaves hairy", &["leaf hairy", "leaf/hair there"]),
    ("Leaves not hairy", &["leaf not hairy", "leaf/hair not there"]),
    ("Leaves never lobed", &["leaf not lobed", "!leaf lobed"]),
    ("Leaves entire, not lobed", &["leaf entire", "leaf not lobed"]),
    ("Leaves not lobed, hairy", &["leaf not lobed", "leaf hairy"]),
    ("Leaves not lobed but toothed", &["leaf not lobed", "leaf toothed"]),
    ("Leaves neither lobed nor toothed", &["leaf not lobed", "leaf not toothed", "!leaf toothed"]),
    ("Leaves sessile", &["leaf sessile", "leaf/stalk not there"]),
    ("Leaves stalkless", &["leaf/stalk not there"]),
    ("Leaves petiolate", &["leaf/stalk there"]),
    ("Stem leafless", &["stem/leaf not there", "!stem/leaf there"]),
    ("Stem almost leafless", &["!stem/leaf not there"]),
    ("Leaves almost glabrous", &["leaf weakly glabrous", "!leaf/hair not"]),
    ("Flowers apetalous", &["flower/petal not there"]),
    ("Petals absent", &["petal not there"]),
    ("Petals not clawed", &["!petal clawed"]),
    ("Petals not longer than the sepals", &["!petal not there"]),
    ("Calyx not inflated", &["calyx not inflated", "!calyx inflated"]),
    ("Calyx cylindrical, not inflated, hairy", &["calyx not inflated", "calyx hairy", "!calyx not hairy"]),
    ("Perianth absent", &["perianth not there"]),
    ("Perianth absent or reduced to bristles", &["perianth not there"]),
    ("Bulbils absent", &["bulb not there"]),
    ("Bracts none", &["bract not there"]),
    ("Bracts nil", &["bract not there"]),
    (
        "Inflorescence without bracts or bracteoles",
        &["inflorescence/bract not there", "!inflorescence/bract there"],
    ),
    ("Lemmas awnless", &["lemma awnless", "lemma/awn not there"]),
    ("Lemmas not awned", &["lemma/awn not there"]),
    ("Phyllaries eglandular", &["phyllary/gland not there"]),
    ("Leaves free from hairs", &["!leaf/hair there"]),
    ("Achenes smooth, not ribbed", &["achene smooth", "!achene costate"]),
    ("Tubers never forked", &["!tuber forked"]),
    // G16: no denial of the character.
    ("Petals not more than 5 mm long", &["petal 0..5 mm", "!petal not"]),
    ("Petals not over 5 mm long", &["petal 0..5 mm", "!petal not"]),
    ("Petals not more than twice as long as the sepals", &["!petal not there"]),
    ("Leaves not or scarcely toothed", &["!leaf toothed", "!leaf not toothed"]),
    ("Leaves not only hairy", &["leaf hairy"]),
    ("Stipules, if present, small", &["!stipule not"]),
    ("Hairs, when present, simple", &["hair simple", "!hair not"]),
    // G17: rarely is not never.
    ("Leaves rarely hairy", &["leaf rarely hairy", "!leaf not"]),
    ("Leaves seldom hairy", &["leaf rarely hairy"]),
    ("Leaves hairy (rarely glabrous)", &["leaf hairy", "leaf rarely glabrous"]),
    ("Leaves glabrous, rarely hairy beneath", &["leaf glabrous", "leaf rarely hairy"]),
    ("Leaves usually hairy", &["leaf usually hairy"]),
    ("Leaves sometimes spotted", &["!leaf not"]),
    // Sentences of the demo flora.
    ("Leaves sessile, not fleshy", &["leaf not fleshy", "!leaf fleshy"]),
    ("Stem erect, almost leafless, glandular-villous; bulbils absent", &["bulb not there", "stem erect"]),
    ("Achenes keeled, not ribbed, tipped by a beak", &["achene not costate", "achene keeled"]),
    (
        "Leaves of the fen plants glabrous to arachnoid-hairy, never white-tomentose",
        &["!leaf tomentose", "!leaf white"],
    ),
    ("Petals 5, bifid, without a claw, white", &["petal/claw not there", "petal white", "!petal/claw there"]),
    ("Nut trigonous, not enclosed in a utricle", &["!nut not there"]),
];

#[test]
fn what_is_denied_never_counts_as_there() {
    assert!(CASES.len() >= 60);
    for (text, expected) in CASES {
        check(text, expected);
    }
}
