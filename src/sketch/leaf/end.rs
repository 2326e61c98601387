//! Ends of leaves: the upper half with the apex bold, or the lower half with the base bold; what is common to all is faint.
//! Angles keep to S9 (acuminate below 45°, acute 45–90°, obtuse above; from one herbarium's glossary) and to the Manual of
//! Leaf Architecture (acute below 90°, obtuse to 180°, reflex above; recalled).

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for apices, then for bases.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("acute", |pen| apex(pen, &[[29.0, -14.0], [0.0, 36.0]])),
    ("acuminate", |pen| {
        apex_smooth(pen, &[[29.0, -12.0], [23.0, -1.0], [11.0, 12.0], [5.0, 24.0], [2.0, 36.0], [0.0, 46.0]]);
    }),
    ("obtuse", |pen| apex(pen, &[[31.0, -14.0], [27.0, -4.0], [4.0, 17.0], [0.0, 18.5]])),
    ("rounded", |pen| apex(pen, &curve::arc([0.0, -12.0], [30.0, 30.0], (0.0, 90.0)))),
    ("truncate", |pen| apex(pen, &[[29.0, -12.0], [27.0, 20.0], [0.0, 20.0]])),
    ("retuse", |pen| {
        apex_smooth(pen, &[[30.0, -12.0], [27.0, 8.0], [17.0, 21.0], [6.0, 22.0], [0.0, 17.0]]);
    }),
    ("emarginate", |pen| {
        let lobe = curve::smooth(&[[30.0, -12.0], [29.0, 10.0], [20.0, 26.0], [10.0, 26.0]]);
        apex(pen, &[&lobe[..], &[[0.0, 2.0]]].concat());
    }),
    ("mucronate", |pen| tipped(pen, 14.0)),
    ("mucronulate", |pen| tipped(pen, 7.0)),
    ("apiculate", |pen| {
        let round = curve::arc([0.0, -12.0], [30.0, 30.0], (0.0, 74.0));
        apex(pen, &[&round[..], &[[4.0, 20.0], [0.0, 36.0]]].concat());
    }),
    ("cuspidate", |pen| {
        apex_smooth(pen, &[[30.0, -12.0], [27.0, 4.0], [16.0, 14.0], [6.0, 20.0], [2.5, 32.0], [0.0, 44.0]]);
    }),
    ("aristate", |pen| {
        apex(pen, &[[28.0, -14.0], [0.0, 14.0]]);
        pen.line(&[[0.0, 14.0], [0.0, 50.0]], Look::Bold);
    }),
    ("caudate", caudate),
    ("cirrhose", cirrhose),
    ("pungent", |pen| {
        apex(pen, &[[29.0, -12.0], [8.0, 14.0]]);
        pen.figure(&[[-9.0, 12.0], [9.0, 12.0], [0.0, 46.0]], Look::Ink);
    }),
    ("attenuate", |pen| {
        base_smooth(pen, &[[29.0, 14.0], [21.0, 0.0], [10.0, -14.0], [4.0, -28.0], [0.0, -44.0]]);
    }),
    ("cuneate", |pen| base(pen, &[[30.0, 16.0], [0.0, -36.0]])),
    ("subcordate", |pen| {
        base_smooth(pen, &[[30.0, 16.0], [27.0, -8.0], [14.0, -21.0], [5.0, -21.0], [0.0, -16.0]]);
    }),
    ("auriculate", auriculate),
    ("oblique", oblique),
];

/// How far above or below the middle a half leaf ends, and how far aside.
const CUT: At = [29.0, -44.0];

/// Draws the upper half of a leaf, its right margin given from where it becomes of interest up to the tip.
fn apex(pen: &mut Pen, right: &[At]) {
    let first = right[0];
    for side in [-1.0, 1.0] {
        let end: Vec<At> = right.iter().map(|[x, y]| [side * x, *y]).collect();
        pen.smooth(
            &[[side * CUT[0], CUT[1]], [side * (CUT[0] + 3.0), -28.0], [side * first[0], first[1]]],
            Look::Faint,
        );
        pen.line(&end, Look::Bold);
    }
    let tip = right[right.len() - 1][1].min(24.0);
    pen.line(&[[0.0, CUT[1]], [0.0, tip - 8.0]], Look::Faint);
}

fn apex_smooth(pen: &mut Pen, right: &[At]) {
    apex(pen, &curve::smooth(right));
}

/// Draws the lower half of a leaf with a stalk, its right margin given down to the stalk.
fn base(pen: &mut Pen, right: &[At]) {
    let first = right[0];
    for side in [-1.0, 1.0] {
        let end: Vec<At> = right.iter().map(|[x, y]| [side * x, *y]).collect();
        pen.smooth(
            &[[side * CUT[0], -CUT[1]], [side * (CUT[0] + 3.0), 30.0], [side * first[0], first[1]]],
            Look::Faint,
        );
        pen.line(&end, Look::Bold);
    }
    let foot = right[right.len() - 1][1];
    pen.line(&[[0.0, foot], [0.0, 42.0]], Look::Faint);
    pen.line(&[[0.0, -50.0], [0.0, foot]], Look::Line);
}

fn base_smooth(pen: &mut Pen, right: &[At]) {
    base(pen, &curve::smooth(right));
}

/// Draws a rounded apex with a small point of its own.
fn tipped(pen: &mut Pen, long: f32) {
    apex(pen, &curve::arc([0.0, -12.0], [30.0, 30.0], (0.0, 90.0)));
    pen.line(&[[0.0, 18.0], [0.0, 18.0 + long]], Look::Bold);
}

fn caudate(pen: &mut Pen) {
    for side in [-1.0, 1.0] {
        pen.smooth(&[[side * 24.0, -48.0], [side * 28.0, -38.0], [side * 24.0, -24.0]], Look::Faint);
        let slope = [[side * 24.0, -24.0], [side * 13.0, -13.0], [side * 5.0, -4.0], [side * 3.4, 10.0]];
        let tail: Vec<At> =
            [[3.2, 22.0], [5.0, 36.0], [8.0, 48.0]].iter().map(|[x, y]| [side * 3.0 + x - 2.0, *y]).collect();
        pen.smooth(&[&slope[..], &tail[..2], &[[8.0, 49.0]]].concat(), Look::Line);
    }
    pen.line(&[[0.0, -48.0], [0.0, -16.0]], Look::Faint);
}

fn cirrhose(pen: &mut Pen) {
    apex(pen, &[[27.0, -20.0], [0.0, 6.0]]);
    let coil: Vec<At> = (0..=36_u8)
        .map(|step| {
            let share = f32::from(step) / 36.0;
            let (sine, cosine) = (180.0 - 620.0 * share).to_radians().sin_cos();
            let radius = 15.0 * (1.0 - 0.75 * share);
            [15.0 + radius * cosine, 30.0 + radius * sine]
        })
        .collect();
    pen.smooth(&[[0.0, 6.0], [-1.0, 18.0], [0.0, 30.0]], Look::Line);
    pen.line(&coil, Look::Line);
}

fn auriculate(pen: &mut Pen) {
    base_smooth(
        pen,
        &[
            [26.0, 18.0],
            [17.0, 2.0],
            [12.0, -10.0],
            [18.0, -16.0],
            [25.0, -24.0],
            [20.0, -36.0],
            [9.0, -35.0],
            [3.0, -24.0],
            [0.0, -14.0],
        ],
    );
}

fn oblique(pen: &mut Pen) {
    pen.smooth(&[[-29.0, 44.0], [-33.0, 30.0], [-31.0, 14.0]], Look::Faint);
    pen.smooth(&[[29.0, 44.0], [33.0, 30.0], [31.0, 20.0]], Look::Faint);
    pen.smooth(&[[-31.0, 14.0], [-26.0, -12.0], [-14.0, -26.0], [0.0, -32.0]], Look::Bold);
    pen.smooth(&[[31.0, 20.0], [24.0, 4.0], [12.0, -6.0], [0.0, -10.0]], Look::Bold);
    pen.line(&[[0.0, -50.0], [0.0, -10.0]], Look::Line);
    pen.line(&[[0.0, -10.0], [0.0, 42.0]], Look::Faint);
}

#[cfg(test)]
mod tests {
    use crate::sketch::of;
    use crate::sketch::pen::{Mark, Weight};

    use super::*;

    /// Length of the whole blade of which a half is drawn; the chord of an angle is taken at a quarter of it.
    const QUARTER: f32 = 22.0;

    /// Points of a margin that are looked at.
    const SAMPLES: usize = 400;

    /// Returns the right margin of an end, from where it becomes of interest to the tip or the stalk.
    fn end(name: &str) -> Vec<At> {
        let sketch = of(name).expect("it is drawn");
        let bold = sketch.marks.iter().find_map(|mark| match mark {
            Mark::Stroke(points, Weight::Bold) if points[0][0] > 0.0 => Some(points.clone()),
            Mark::Stroke(..) | Mark::Area(..) => None,
        });
        bold.expect("its end is bold")
    }

    /// Returns the angle between the lines from the end to both margins a quarter of the blade away.
    fn angle(name: &str) -> f32 {
        let margin = end(name);
        let tip = margin[margin.len() - 1];
        let away = |point: &At| (point[1] - tip[1]).abs();
        let samples = || (0..=SAMPLES).map(|at| curve::along(&margin, 1.0 - at as f32 / SAMPLES as f32).0);
        let outer = samples()
            .find(|point| away(point) >= QUARTER && (point[1] - tip[1]) * (margin[0][1] - tip[1]) > 0.0);
        let outer = outer.unwrap_or(margin[0]);
        // A margin that first goes beyond the end of the midrib makes a reflex angle.
        let inward = (margin[0][1] - tip[1]).signum();
        let reflex = samples().any(|point| (point[1] - tip[1]) * inward < -1.0);
        let half = outer[0].atan2((outer[1] - tip[1]) * inward).to_degrees();
        if reflex { 360.0 - 2.0 * half } else { 2.0 * half }
    }

    /// Checks that the angle of an end lies between two.
    #[track_caller]
    fn check_angle(name: &str, least: f32, most: f32) {
        let found = angle(name);
        assert!(found > least && found <= most, "{name}: {found}°");
    }

    #[test]
    fn apices_have_the_angles_of_the_charts() {
        check_angle("acuminate", 0.0, 45.0);
        check_angle("acute", 45.0, 90.0);
        check_angle("obtuse", 90.0, 180.0);
        check_angle("rounded", 90.0, 180.0);
        check_angle("truncate", 90.0, 180.0);
        check_angle("emarginate", 180.0, 360.0);
        check_angle("retuse", 180.0, 360.0);
    }

    #[test]
    fn bases_have_the_angles_of_the_charts() {
        check_angle("cuneate", 0.0, 90.0);
        check_angle("attenuate", 0.0, 90.0);
        check_angle("subcordate", 180.0, 360.0);
        check_angle("auriculate", 180.0, 360.0);
    }
}
