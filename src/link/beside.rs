//! Words beside a term of the lexicon that make English of it: the tables for `ordinary`, a row a word.
//!
//! Longer phrases are in `idiom`, what may stand around any adjective in `frame`.

/// What follows a word where it is English alone; `*` stands for an infinitive of [`DOING`](super::everyday::DOING) after `to`.
pub(super) const ENGLISH_BEFORE: &[(&str, &[&str])] = &[
    ("branch", &["line", "lines", "office", "road"]),
    ("close", &["by", "to", "in", "at", "when", "again", "after", "before"]),
    ("coated", &["by", "with"]),
    ("common", &["along", "at", "by", "in", "name", "names", "near", "on", "throughout"]),
    ("crowded", &["by", "off", "out", "with"]),
    (
        "cut",
        &[
            "a", "for", "it", "off", "the", "down", "back", "up", "through", "short", "away", "by", "in",
            "and",
        ],
    ),
    ("dense", &["shade", "woods", "thickets"]),
    ("double", &["as", "that", "the", "gates", "gate", "door", "doors", "check", "bed", "track"]),
    (
        "dry",
        &[
            "banks", "fields", "ground", "hills", "places", "rocks", "sand", "season", "slopes", "soil",
            "spell", "summer", "uplands", "weather", "woods", "year", "years",
        ],
    ),
    ("dull", &["days", "light", "weather"]),
    ("equal", &["in"]),
    ("erect", &["a", "an", "another", "fences", "new", "the", "their"]),
    ("family", &["album", "bible", "farm", "home", "house", "name", "tradition"]),
    ("flat", &["coast", "country", "ground", "land", "rock", "rocks", "stone", "stones", "top", "tops"]),
    ("free", &["from", "of", "passage", "access", "use", "hand", "days", "day", "play"]),
    (
        "head",
        &[
            "keeper", "man", "office", "teacher", "gardener", "east", "north", "west", "south", "wind",
            "winds", "count", "start",
        ],
    ),
    ("key", &["to", "out"]),
    ("leaves", &["behind", "her", "him", "it", "me", "much", "no", "nothing", "room", "them", "us"]),
    ("lined", &["with", "by", "up", "the"]),
    ("local", &["name", "names"]),
    ("native", &["to", "of", "in"]),
    ("nerve", &["*", "racking"]),
    (
        "open",
        &[
            "day", "days", "evening", "sea", "water", "weather", "question", "ground", "air", "again",
            "only", "late", "early", "after", "before", "one",
        ],
    ),
    (
        "opposite",
        &["bank", "coast", "corner", "end", "ends", "faces", "shore", "side", "sides", "slope", "way"],
    ),
    ("perfect", &["example", "as", "for", "place", "spot", "order", "weather", "copy"]),
    ("plaited", &["into"]),
    ("proper", &["name", "names"]),
    ("rank", &["smell", "grass", "grasses", "growth", "herbage", "odour", "scent", "vegetation", "weeds"]),
    ("regular", &["interval", "intervals", "lines", "visitor", "visitors", "boat", "service", "use"]),
    ("round", &["a", "an", "it", "the"]),
    (
        "running",
        &[
            "along", "down", "through", "up", "water", "out", "into", "back", "round", "from", "away", "off",
            "over", "past", "beside", "between", "north", "south", "east", "west", "to", "wild",
        ],
    ),
    ("scale", &["bar", "bars", "beside", "drawing", "map", "model"]),
    (
        "simple",
        &[
            "*", "answer", "matter", "means", "method", "question", "reason", "rule", "task", "test", "way",
            "one", "guide", "thing", "list", "plant",
        ],
    ),
    ("single", &["plant", "record", "site", "locality"]),
    ("spiked", &["border"]),
    ("stem", &["the", "this", "these"]),
    ("stock", &["animals", "graze", "grazes", "is", "may", "must", "was"]),
    ("stone", &["bridge", "church", "circle", "house", "steps", "wall", "walls"]),
    ("thorn", &["hedge", "hedges", "fence"]),
];

/// What goes before a word where it is English alone, unless `of` follows (`the eye of the flower`).
pub(super) const ENGLISH_AFTER: &[(&str, &[&str])] = &[
    ("angle", &["right", "wide", "narrow", "sharp", "an", "this", "steep", "low", "every", "same"]),
    ("angles", &["right", "all"]),
    ("bark", &["dog", "dog's", "s", "dogs"]),
    ("base", &["air", "army", "naval"]),
    ("column", &["newspaper", "smoke", "weekly", "second"]),
    ("cone", &["volcanic", "traffic", "ice", "cream"]),
    ("crown", &["half"]),
    ("cut", &["be", "been", "is", "was", "were"]),
    ("dark", &["after", "before"]),
    ("dry", &["if", "when", "while"]),
    ("eye", &["naked", "the", "your"]),
    (
        "head",
        &[
            "valley", "glen", "dale", "burn", "loch", "lake", "pier", "bay", "fjord", "stream", "road",
            "river", "spring", "well", "beck", "corrie", "arrow", "his", "her", "my", "your", "bed",
        ],
    ),
    ("herb", &["pot", "kitchen", "physic", "sweet", "tea", "cooking", "medicinal", "simpling"]),
    ("herbs", &["pot", "kitchen", "physic", "sweet", "tea", "cooking", "medicinal"]),
    ("keel", &["boat's"]),
    (
        "leaves",
        &[
            "boat", "burn", "bus", "captain", "ferry", "he", "it", "never", "one", "path", "river", "road",
            "she", "ship", "stream", "that", "track", "train", "which", "who",
        ],
    ),
    ("limb", &["lost"]),
    (
        "line",
        &[
            "branch", "coast", "power", "railway", "shore", "snow", "tide", "tree", "straight", "in",
            "dotted", "regular", "contour", "fence",
        ],
    ),
    ("lines", &["straight", "regular"]),
    ("lip", &["his", "her"]),
    ("margin", &["field", "fields", "forest", "lake", "pool", "road", "stream", "water", "wood", "woodland"]),
    ("nerve", &["your"]),
    ("open", &["never", "not", "to", "will", "may", "can"]),
    ("plane", &["one", "same"]),
    (
        "rank",
        &[
            "the", "of", "top", "front", "first", "taxi", "this", "higher", "lower", "species", "specific",
            "whose", "in",
        ],
    ),
    ("round", &["all"]),
    ("scale", &["same", "drawn", "metric"]),
    ("scales", &["same", "kitchen", "letter"]),
    ("shell", &["limpet", "cockle", "snail", "mussel", "sea", "egg", "oyster"]),
    ("single", &["a", "the", "every", "each", "any", "no", "one", "its", "not"]),
    ("stock", &["live", "rolling", "in", "joint"]),
    ("stone", &["flat", "loose", "stepping", "wet"]),
    ("throat", &["your"]),
    ("tip", &["rubbish", "council"]),
    ("tips", &["rubbish", "on", "old", "refuse"]),
    ("tooth", &["your"]),
    ("wing", &["west", "east", "north", "south", "bird's"]),
];

/// What follows a word where it is a term; before anything else it is English (`basic` soil, but `basic` facts).
pub(super) const TRADE_BEFORE: &[(&str, &[&str])] = &[(
    "basic",
    &[
        "clay",
        "cliffs",
        "conditions",
        "fens",
        "flushes",
        "grassland",
        "gravel",
        "ground",
        "habitats",
        "ledges",
        "mires",
        "pastures",
        "peat",
        "rock",
        "rocks",
        "sand",
        "scree",
        "soil",
        "soils",
        "substrates",
        "turf",
        "water",
        "waters",
        "woodland",
    ],
)];
