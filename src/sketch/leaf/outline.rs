//! Outlines of leaves, by the ratios of length to width of the Systematics Association's chart of plane shapes (1962,
//! Taxon 11: 145–156, 245–247), or drawn point by point where the chart has none.

use crate::sketch::Row;
use crate::sketch::curve;
use crate::sketch::leaf::shape::{BLUNT, DRAWN, Leaf, ROUND, SHARP, SQUARE, SWORD, stalk};
use crate::sketch::pen::{Look, Pen};

/// Terms for outlines.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("linear", |pen| Leaf::new(13.0, 0.5, [SWORD, SWORD]).draw(pen, Look::Line)),
    ("lanceolate", |pen| Leaf::new(4.0, 0.3, [BLUNT, SHARP]).draw(pen, Look::Line)),
    ("oblanceolate", |pen| Leaf::new(4.0, 0.7, [SHARP, BLUNT]).draw(pen, Look::Line)),
    ("oblong", |pen| Leaf::new(2.0, 0.5, [SQUARE, SQUARE]).draw(pen, Look::Line)),
    ("elliptic", |pen| Leaf::new(1.9, 0.5, [BLUNT, BLUNT]).draw(pen, Look::Line)),
    ("ovate", |pen| Leaf::new(1.6, 0.3, [ROUND, BLUNT]).draw(pen, Look::Line)),
    ("obovate", |pen| Leaf::new(1.6, 0.7, [BLUNT, ROUND]).draw(pen, Look::Line)),
    ("orbicular", |pen| Leaf::new(1.0, 0.5, [ROUND, ROUND]).draw(pen, Look::Line)),
    ("oblate", |pen| Leaf::new(0.83, 0.5, [ROUND, ROUND]).draw(pen, Look::Line)),
    ("ensiform", |pen| Leaf::new(8.0, 0.4, [SQUARE, SHARP]).draw(pen, Look::Line)),
    ("subulate", |pen| Leaf::new(9.0, 0.04, [BLUNT, DRAWN]).draw(pen, Look::Line)),
    ("lorate", lorate),
    ("filiform", filiform),
    ("acicular", |pen| {
        pen.figure(&[[-2.5, -50.0], [2.5, -50.0], [2.5, 20.0], [0.0, 50.0], [-2.5, 20.0]], Look::Ink);
    }),
    ("cordate", cordate),
    ("obcordate", obcordate),
    ("reniform", reniform),
    ("deltoid", |pen| angled(pen, &[[0.0, -32.0], [40.0, -32.0], [0.0, 44.0]])),
    ("obdeltoid", |pen| angled(pen, &[[0.0, -34.0], [40.0, 40.0], [0.0, 40.0]])),
    ("rhombic", |pen| angled(pen, &[[0.0, -38.0], [27.0, 4.0], [0.0, 46.0]])),
    ("trullate", |pen| angled(pen, &[[0.0, -38.0], [25.0, -14.0], [0.0, 46.0]])),
    ("spathulate", spathulate),
    ("flabellate", flabellate),
    ("sagittate", sagittate),
    ("hastate", hastate),
    ("pandurate", pandurate),
    ("falcate", falcate),
    ("lunate", lunate),
];

/// Draws a leaf with corners, from its right side.
fn angled(pen: &mut Pen, right: &[[f32; 2]]) {
    pen.twin(right, Look::Line);
    let (base, apex) = (right[0][1], right[right.len() - 1][1]);
    stalk(pen, base);
    pen.line(&[[0.0, base], [0.0, base + (apex - base) * 0.88]], Look::Faint);
}

/// Draws a leaf with rounded sides, from points of its right side.
fn curved(pen: &mut Pen, right: &[[f32; 2]]) {
    angled(pen, &curve::smooth(right));
}

fn lorate(pen: &mut Pen) {
    let left = curve::smooth(&[[-6.0, -48.0], [-9.0, -15.0], [-7.0, 18.0], [4.0, 40.0], [9.0, 44.0]]);
    let right = curve::smooth(&[[18.0, 43.0], [20.0, 36.0], [10.0, 18.0], [5.0, -15.0], [6.0, -48.0]]);
    pen.figure(&[left, right].concat(), Look::Line);
    pen.smooth(&[[0.0, -46.0], [-2.0, -15.0], [1.0, 18.0], [12.0, 38.0]], Look::Faint);
}

fn filiform(pen: &mut Pen) {
    let thread = [[-4.0, -50.0], [4.0, -28.0], [-6.0, -4.0], [6.0, 20.0], [0.0, 50.0]];
    pen.smooth(&thread, Look::Line);
}

fn cordate(pen: &mut Pen) {
    curved(
        pen,
        &[
            [0.0, -22.0],
            [5.0, -33.0],
            [19.0, -38.0],
            [34.0, -29.0],
            [37.0, -12.0],
            [28.0, 10.0],
            [13.0, 30.0],
            [0.0, 48.0],
        ],
    );
}

fn obcordate(pen: &mut Pen) {
    curved(
        pen,
        &[
            [0.0, -38.0],
            [14.0, -18.0],
            [30.0, 8.0],
            [36.0, 26.0],
            [31.0, 41.0],
            [18.0, 45.0],
            [6.0, 38.0],
            [0.0, 26.0],
        ],
    );
}

fn reniform(pen: &mut Pen) {
    curved(
        pen,
        &[
            [0.0, -8.0],
            [7.0, -22.0],
            [24.0, -28.0],
            [41.0, -17.0],
            [46.0, 2.0],
            [37.0, 21.0],
            [19.0, 31.0],
            [0.0, 33.0],
        ],
    );
}

fn spathulate(pen: &mut Pen) {
    curved(
        pen,
        &[[2.5, -48.0], [4.0, -20.0], [8.0, -2.0], [20.0, 14.0], [21.0, 32.0], [12.0, 44.0], [0.0, 47.0]],
    );
}

fn flabellate(pen: &mut Pen) {
    let mut right = vec![[0.0, -38.0]];
    right.extend(curve::arc([0.0, -38.0], [82.0, 82.0], (34.0, 90.0)).iter().map(|[x, y]| [*x * 0.72, *y]));
    pen.twin(&right, Look::Line);
    stalk(pen, -38.0);
    for x in [-34.0, -17.0, 0.0, 17.0, 34.0_f32] {
        pen.line(&[[0.0, -38.0], [x, 36.0 - x.abs() * 0.45]], Look::Faint);
    }
}

fn sagittate(pen: &mut Pen) {
    let mut right = vec![[0.0, -16.0], [14.0, -30.0], [27.0, -46.0]];
    right.extend(curve::smooth(&[[26.0, -30.0], [20.0, -8.0], [12.0, 18.0], [0.0, 48.0]]));
    angled(pen, &right);
}

fn hastate(pen: &mut Pen) {
    let mut right = vec![[0.0, -26.0], [14.0, -26.0], [45.0, -34.0], [24.0, -16.0]];
    right.extend(curve::smooth(&[[16.0, -8.0], [17.0, 6.0], [10.0, 26.0], [0.0, 48.0]]));
    angled(pen, &right);
}

fn pandurate(pen: &mut Pen) {
    curved(
        pen,
        &[
            [0.0, -38.0],
            [18.0, -34.0],
            [28.0, -20.0],
            [20.0, -4.0],
            [11.0, 8.0],
            [16.0, 22.0],
            [21.0, 32.0],
            [13.0, 44.0],
            [0.0, 47.0],
        ],
    );
}

fn falcate(pen: &mut Pen) {
    let outer = curve::smooth(&[[-16.0, -48.0], [-26.0, -18.0], [-18.0, 16.0], [4.0, 38.0], [32.0, 46.0]]);
    let inner = curve::smooth(&[[32.0, 46.0], [8.0, 22.0], [-3.0, -4.0], [-6.0, -28.0], [-16.0, -48.0]]);
    pen.figure(&[outer, inner].concat(), Look::Line);
    pen.smooth(&[[-16.0, -46.0], [-16.0, -18.0], [-9.0, 10.0], [8.0, 32.0]], Look::Faint);
}

fn lunate(pen: &mut Pen) {
    let outer = curve::smooth(&[[-46.0, 22.0], [-40.0, -10.0], [0.0, -34.0], [40.0, -10.0], [46.0, 22.0]]);
    let inner = curve::smooth(&[[46.0, 22.0], [26.0, 2.0], [0.0, -4.0], [-26.0, 2.0], [-46.0, 22.0]]);
    pen.figure(&[outer, inner].concat(), Look::Line);
}

#[cfg(test)]
mod tests {
    use crate::sketch::leaf::shape::Leaf;
    use crate::sketch::of;
    use crate::sketch::pen::Mark;

    use super::*;

    /// Parts of a width by which what is drawn may miss what was asked for: points lie on straight pieces.
    const EXACT: f32 = 0.02;

    /// The chart's classes with length by width and where they are widest, as in sources.md S9.
    const CLASSES: &[(&str, [f32; 2], f32)] = &[
        ("narrowly elliptic", [3.0, 6.0], 0.5),
        ("elliptic", [1.5, 2.0], 0.5),
        ("widely elliptic", [1.2, 1.2], 0.5),
        ("circular", [1.0, 1.0], 0.5),
        ("oblate", [0.83, 0.83], 0.5),
        ("transversely elliptic", [0.5, 0.67], 0.5),
        ("linear", [12.0, 20.0], 0.5),
        ("narrowly oblong", [3.0, 6.0], 0.5),
        ("oblong", [1.5, 2.0], 0.5),
        ("widely oblong", [1.2, 1.2], 0.5),
        ("lanceolate", [3.0, 6.0], 0.3),
        ("ovate", [1.5, 2.0], 0.3),
        ("widely ovate", [1.2, 1.2], 0.3),
        ("very widely ovate", [1.0, 1.0], 0.3),
        ("oblanceolate", [3.0, 6.0], 0.7),
        ("obovate", [1.5, 2.0], 0.7),
        ("widely obovate", [1.2, 1.2], 0.7),
    ];

    /// Returns length by width of an outline, and where it is widest as a share of its length.
    fn measured(right: &[[f32; 2]]) -> (f32, f32) {
        let (base, apex) = (right[0][1], right[right.len() - 1][1]);
        let widest = right.iter().max_by(|a, b| a[0].total_cmp(&b[0])).expect("it has points");
        ((apex - base) / (2.0 * widest[0]), (widest[1] - base) / (apex - base))
    }

    /// Returns the right margin of the first closed figure of a drawing, from base to apex.
    fn drawn(name: &str) -> Vec<[f32; 2]> {
        let sketch = of(name).expect("it is drawn");
        let Some(Mark::Stroke(points, _)) = sketch.marks.first() else { panic!("{name} begins with a line") };
        points[..points.len() / 2].to_vec()
    }

    /// Checks length by width and widest place of what a term draws against the row of its class.
    #[track_caller]
    fn check_class(name: &str) {
        let (_, [least, most], place) =
            CLASSES.iter().find(|(class, ..)| *class == name).expect("the chart has it");
        let (ratio, widest) = measured(&drawn(name));
        assert!(ratio >= least - EXACT && ratio <= most + EXACT, "{name}: {ratio}");
        assert!((widest - place).abs() < 0.06, "{name} is widest at {widest}");
    }

    #[test]
    fn an_outline_of_any_class_of_the_chart_measures_what_it_is_said_to() {
        for (class, ratios, place) in CLASSES {
            for ratio in ratios {
                for ends in [[ROUND, ROUND], [BLUNT, SHARP], [SHARP, BLUNT]] {
                    let (found, widest) = measured(&Leaf::new(*ratio, *place, ends).margin());
                    assert!((found / ratio - 1.0).abs() < EXACT, "{class}: {found}, not {ratio}");
                    assert!((widest - place).abs() < EXACT, "{class} is widest at {widest}");
                }
            }
        }
    }

    #[test]
    fn drawn_outlines_lie_in_their_class_of_the_chart() {
        for name in
            ["elliptic", "oblate", "linear", "oblong", "lanceolate", "ovate", "oblanceolate", "obovate"]
        {
            check_class(name);
        }
        let (ratio, widest) = measured(&drawn("orbicular"));
        assert!((ratio - 1.0).abs() < EXACT && (widest - 0.5).abs() < EXACT, "{ratio} {widest}");
    }

    #[test]
    fn parallel_sides_are_parallel_for_the_middle_third() {
        for name in ["oblong", "linear"] {
            let margin = drawn(name);
            let (base, apex) = (margin[0][1], margin[margin.len() - 1][1]);
            let middle =
                |point: &&[f32; 2]| (1.0 / 3.0..=2.0 / 3.0).contains(&((point[1] - base) / (apex - base)));
            let breadths: Vec<f32> = margin.iter().filter(middle).map(|point| point[0]).collect();
            let most = breadths.iter().copied().fold(0.0, f32::max);
            assert!(breadths.iter().all(|breadth| breadth / most > 1.0 - EXACT), "{name}: {breadths:?}");
        }
    }
}
