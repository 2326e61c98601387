//! Stems: how they stand and grow, what arms them, and their cross sections.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::leaf::shape::small;
use crate::sketch::pen::{Look, Pen};

/// Terms for stems.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("erect", |pen| growing(pen, &[[0.0, -44.0], [0.0, -10.0], [0.0, 44.0]])),
    ("ascending", |pen| growing(pen, &[[-34.0, -44.0], [-12.0, -36.0], [6.0, -10.0], [10.0, 44.0]])),
    ("decumbent", |pen| {
        growing(pen, &[[-46.0, -42.0], [-10.0, -42.0], [20.0, -38.0], [33.0, -20.0], [36.0, 14.0]]);
    }),
    ("prostrate", |pen| growing(pen, &[[-48.0, -42.0], [0.0, -42.0], [46.0, -42.0]])),
    ("creeping", creeping),
    ("tufted", tufted),
    ("twining", twining),
    ("tendril", tendril),
    ("dichotomous", |pen| forked(pen, ([0.0, -50.0], 90.0), 34.0)),
    ("flexuous", |pen| {
        let zigzag = [[0.0, -50.0], [-10.0, -30.0], [10.0, -10.0], [-10.0, 10.0], [10.0, 30.0], [2.0, 48.0]];
        pen.line(&zigzag, Look::Bold);
        for (at, side) in zigzag[1..5].iter().zip([-1.0, 1.0, -1.0, 1.0]) {
            small(pen, *at, (-side * 60.0, 1.1), Look::FaintPaper);
        }
    }),
    ("geniculate", |pen| {
        pen.line(&[[-26.0, -50.0], [-10.0, -12.0], [16.0, 0.0], [20.0, 50.0]], Look::Bold);
        pen.circle([-10.0, -12.0], 5.0, Look::Ink);
        pen.circle([16.0, 0.0], 5.0, Look::Ink);
    }),
    ("node", |pen| jointed(pen, Look::Faint, Look::Ink)),
    ("internode", |pen| jointed(pen, Look::BoldGrey, Look::FaintPaper)),
    ("thorn", thorn),
    ("prickle", prickle),
    ("terete", |pen| pen.circle([0.0, 0.0], 40.0, Look::BoldGrey)),
    ("quadrangular", |pen| {
        pen.figure(&[[-36.0, -36.0], [36.0, -36.0], [36.0, 36.0], [-36.0, 36.0]], Look::BoldGrey);
    }),
    ("triquetrous", |pen| pen.figure(&[[-44.0, -32.0], [44.0, -32.0], [0.0, 44.0]], Look::BoldGrey)),
    ("ancipital", |pen| {
        pen.blob(
            &[[-48.0, 0.0], [-22.0, -13.0], [22.0, -13.0], [48.0, 0.0], [22.0, 13.0], [-22.0, 13.0]],
            Look::BoldGrey,
        );
    }),
    ("sulcate", sulcate),
    ("winged", winged),
    ("hollow", |pen| {
        pen.circle([0.0, 0.0], 40.0, Look::BoldGrey);
        pen.circle([0.0, 0.0], 26.0, Look::Paper);
    }),
];

/// Draws a stem above the ground along points, with leaves on both sides.
fn growing(pen: &mut Pen, points: &[At]) {
    pen.line(&[[-50.0, -46.0], [50.0, -46.0]], Look::Faint);
    let stem = curve::smooth(points);
    pen.line(&stem, Look::Bold);
    for step in 0..6_u8 {
        let (at, way) = curve::along(&stem, 0.12 + 0.15 * f32::from(step));
        let up = way[1].atan2(way[0]).to_degrees() - 90.0;
        let side = if step % 2 == 0 { 50.0 } else { -50.0 };
        // Along the ground leaves stand upwards only.
        let side = if way[1].abs() < 0.3 { 50.0 } else { side };
        small(pen, at, (up + side, 0.75), Look::Paper);
    }
}

fn creeping(pen: &mut Pen) {
    growing(pen, &[[-48.0, -24.0], [0.0, -24.0], [44.0, -24.0]]);
    for x in [-34.0, -6.0, 22.0] {
        for spread in [-6.0, 0.0, 6.0] {
            pen.line(&[[x, -24.0], [x + spread, -44.0]], Look::Line);
        }
    }
}

fn tufted(pen: &mut Pen) {
    pen.line(&[[-50.0, -46.0], [50.0, -46.0]], Look::Faint);
    for x in [-44.0, -33.0, -22.0, -11.0, 0.0, 11.0, 22.0, 33.0, 44.0_f32] {
        pen.smooth(&[[x * 0.22, -46.0], [x * 0.5, -10.0], [x, 44.0 - x.abs() * 0.5]], Look::Line);
    }
}

fn twining(pen: &mut Pen) {
    pen.line(&[[-5.0, -50.0], [-5.0, 50.0]], Look::Line);
    pen.line(&[[5.0, -50.0], [5.0, 50.0]], Look::Line);
    for coil in 0..3_u8 {
        // What passes behind the support is not seen.
        let front: Vec<At> = (0..=20_u8)
            .map(|step| {
                let turn = (f32::from(step) / 20.0 - 0.5) * 1.25;
                [16.0 * (turn * std::f32::consts::PI).sin(), -38.0 + 32.0 * (f32::from(coil) + turn * 0.5)]
            })
            .collect();
        pen.line(&front, Look::Bold);
        let side = if coil % 2 == 0 { 1.0 } else { -1.0 };
        let foot = -38.0 + 32.0 * (f32::from(coil) + side * 0.25);
        small(pen, [side * 16.0, foot], (-side * 70.0, 1.0), Look::Paper);
    }
}

fn tendril(pen: &mut Pen) {
    pen.line(&[[-28.0, -50.0], [-28.0, 50.0]], Look::Faint);
    small(pen, [-28.0, 8.0], (60.0, 0.8), Look::FaintPaper);
    let coil: Vec<At> = (0..=120_u8)
        .map(|step| {
            let share = f32::from(step) / 120.0;
            let turn = share * 4.5 * std::f32::consts::TAU;
            [
                -26.0 + 70.0 * share + 9.0 * turn.sin() * share.sqrt(),
                -22.0 + 34.0 * share + 10.0 * (turn.cos() - 1.0) * share.sqrt(),
            ]
        })
        .collect();
    pen.line(&coil, Look::Line);
}

fn forked(pen: &mut Pen, (foot, way): (At, f32), long: f32) {
    let (sine, cosine) = way.to_radians().sin_cos();
    let end = [foot[0] + long * cosine, foot[1] + long * sine];
    pen.line(&[foot, end], Look::Line);
    if long > 14.0 {
        let lean = long * 0.95;
        forked(pen, (end, way + lean), long * 0.72);
        forked(pen, (end, way - lean), long * 0.72);
    }
}

/// Draws a stem with two joints, its pieces and its joints in their looks.
fn jointed(pen: &mut Pen, piece: Look, joint: Look) {
    for ([from, to], look) in
        [([-50.0, -24.0], Look::Faint), ([-18.0, 18.0], piece), ([24.0, 50.0], Look::Faint)]
    {
        pen.figure(&[[-6.0, from], [6.0, from], [6.0, to], [-6.0, to]], look);
    }
    for y in [-21.0, 21.0_f32] {
        let side = y.signum();
        small(pen, [side * 8.0, y], (-side * 55.0, 1.3), Look::FaintPaper);
        pen.oval([0.0, y], [9.5, 4.5], joint);
    }
}

fn thorn(pen: &mut Pen) {
    pen.line(&[[-20.0, -50.0], [-20.0, 50.0]], Look::Bold);
    small(pen, [-20.0, -20.0], (-110.0, 1.2), Look::FaintPaper);
    pen.figure(&[[-20.0, -18.0], [-20.0, -8.0], [42.0, 20.0]], Look::Ink);
    small(pen, [6.0, 2.0], (10.0, 0.6), Look::FaintPaper);
}

fn prickle(pen: &mut Pen) {
    pen.line(&[[-7.0, -50.0], [-7.0, 50.0]], Look::Line);
    pen.line(&[[7.0, -50.0], [7.0, 50.0]], Look::Line);
    for (side, y) in [(1.0, 26.0), (-1.0, 8.0), (1.0, -14.0), (-1.0, -30.0)] {
        let hook: Vec<At> =
            curve::smooth(&[[7.0, 9.0], [16.0, 2.0], [27.0, -9.0], [14.0, -4.0], [7.0, -7.0]])
                .iter()
                .map(|[x, up]| [side * x, y + up])
                .collect();
        pen.figure(&hook, Look::Ink);
    }
}

fn sulcate(pen: &mut Pen) {
    let rim: Vec<At> = (0..200_u8)
        .map(|step| {
            let turn = f32::from(step) / 200.0 * std::f32::consts::TAU;
            let reach = 44.0 - 12.0 * (turn * 4.0).cos().abs().powf(0.35).mul_add(-1.0, 1.0);
            [reach * turn.cos(), reach * turn.sin()]
        })
        .collect();
    pen.figure(&rim, Look::BoldGrey);
}

fn winged(pen: &mut Pen) {
    for turn in [45.0, 135.0, 225.0, 315.0] {
        pen.at([0.0, 0.0], (turn, 1.0), |pen| {
            pen.figure(&[[-3.0, 16.0], [3.0, 16.0], [2.0, 49.0], [-2.0, 49.0]], Look::Ink);
        });
    }
    pen.circle([0.0, 0.0], 20.0, Look::BoldGrey);
}
