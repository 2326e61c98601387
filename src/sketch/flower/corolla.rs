//! Forms of the corolla, from the side or the front; calyx and stalk step back.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for corollas.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("rotate", rotate),
    ("campanulate", |pen| tube(pen, &[[3.0, -24.0], [19.0, -18.0], [22.0, 0.0], [24.0, 18.0], [36.0, 30.0]])),
    ("funnelform", |pen| tube(pen, &[[3.0, -28.0], [6.0, -10.0], [14.0, 8.0], [28.0, 24.0], [44.0, 34.0]])),
    ("salverform", salverform),
    ("urceolate", |pen| {
        tube(
            pen,
            &[[4.0, -24.0], [24.0, -18.0], [30.0, 0.0], [22.0, 20.0], [9.0, 30.0], [9.0, 34.0], [18.0, 38.0]],
        );
    }),
    ("tubular", |pen| tube(pen, &[[7.0, -26.0], [9.0, -20.0], [9.0, 0.0], [9.0, 26.0], [12.0, 40.0]])),
    ("ligulate", ligulate),
    ("bilabiate", bilabiate),
    ("papilionaceous", |pen| pea(pen, [Look::Paper; 3])),
    ("standard", |pen| pea(pen, [Look::Ink, Look::FaintPaper, Look::FaintPaper])),
    ("wing", |pen| pea(pen, [Look::FaintPaper, Look::Ink, Look::FaintPaper])),
    ("keel", |pen| pea(pen, [Look::FaintPaper, Look::FaintPaper, Look::Ink])),
    ("cruciform", cruciform),
    ("spurred", spurred),
    ("galeate", galeate),
    ("saccate", saccate),
    ("corona", corona),
    ("clawed", clawed),
];

/// Draws stalk and calyx below a corolla.
fn calyx(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -30.0]], Look::Faint);
    pen.figure(
        &[
            [-6.0, -30.0],
            [6.0, -30.0],
            [13.0, -12.0],
            [5.0, -19.0],
            [0.0, -12.0],
            [-5.0, -19.0],
            [-13.0, -12.0],
        ],
        Look::Faint,
    );
}

/// Draws a corolla with its lobes, from the right side of its tube.
fn tube(pen: &mut Pen, right: &[At]) {
    let side = curve::smooth(right);
    let mouth = side[side.len() - 1];
    let mut rim: Vec<At> = Vec::new();
    for lobe in 0..3_u8 {
        let from = mouth[0] * (1.0 - 2.0 * f32::from(lobe) / 3.0);
        let to = mouth[0] * (1.0 - 2.0 * f32::from(lobe + 1) / 3.0);
        rim.extend([[from, mouth[1]], [f32::midpoint(from, to), mouth[1] + 9.0], [to, mouth[1]]]);
    }
    let mut ring = side.clone();
    ring.extend(rim);
    ring.extend(curve::mirror(&side).into_iter().rev());
    calyx(pen);
    pen.figure(&ring, Look::Paper);
    for x in [-0.33, 0.33] {
        let fold: Vec<At> = side.iter().skip(side.len() / 3).map(|point| [point[0] * x, point[1]]).collect();
        pen.line(&fold, Look::Faint);
    }
}

/// Draws so many petals around the middle.
fn petals(pen: &mut Pen, count: u8, petal: &[At], look: Look) {
    for step in 0..count {
        pen.at([0.0, 0.0], (360.0 / f32::from(count) * f32::from(step), 1.0), |pen| {
            pen.twin(&curve::smooth(petal), look);
        });
    }
}

fn rotate(pen: &mut Pen) {
    // From the side, flat above a very short tube.
    pen.line(&[[0.0, -50.0], [0.0, -22.0]], Look::Faint);
    pen.line(&[[-12.0, -12.0], [0.0, -22.0], [12.0, -12.0]], Look::Faint);
    pen.figure(&[[-4.0, -20.0], [4.0, -20.0], [5.0, -10.0], [-5.0, -10.0]], Look::Paper);
    pen.blob(
        &[[-48.0, -2.0], [-22.0, -11.0], [22.0, -11.0], [48.0, -2.0], [24.0, 3.0], [-24.0, 3.0]],
        Look::Paper,
    );
    for x in [-18.0, 18.0] {
        pen.line(&[[x * 0.3, -4.0], [x, 2.0]], Look::Faint);
    }
    pen.oval([0.0, -4.0], [6.0, 2.4], Look::Ink);
    for x in [-6.0, 0.0, 6.0_f32] {
        pen.line(&[[x * 0.5, -3.0], [x, 14.0]], Look::Faint);
    }
}

fn salverform(pen: &mut Pen) {
    calyx(pen);
    pen.figure(&[[-4.0, -28.0], [4.0, -28.0], [5.0, 24.0], [-5.0, 24.0]], Look::Paper);
    pen.blob(
        &[[-46.0, 28.0], [-22.0, 22.0], [22.0, 22.0], [46.0, 28.0], [24.0, 34.0], [-24.0, 34.0]],
        Look::Paper,
    );
    pen.oval([0.0, 28.0], [6.0, 2.6], Look::Ink);
}

fn ligulate(pen: &mut Pen) {
    pen.twin(&curve::smooth(&[[0.0, -50.0], [6.0, -44.0], [7.0, -32.0], [3.0, -26.0]]), Look::Faint);
    let strap = [
        [-3.0, -26.0],
        [-4.0, -12.0],
        [-13.0, 2.0],
        [-14.0, 38.0],
        [-9.0, 44.0],
        [-5.0, 39.0],
        [0.0, 46.0],
        [5.0, 39.0],
        [9.0, 44.0],
        [14.0, 38.0],
        [13.0, 2.0],
        [4.0, -12.0],
        [3.0, -26.0],
    ];
    pen.figure(&strap, Look::BoldPaper);
    for x in [-5.0, 5.0] {
        pen.line(&[[x, 0.0], [x, 36.0]], Look::Faint);
    }
    pen.line(&[[0.0, -14.0], [0.0, 4.0]], Look::Faint);
}

/// Draws stalk and calyx of a corolla that opens to the right.
fn side_calyx(pen: &mut Pen) {
    pen.smooth(&[[-40.0, -50.0], [-44.0, -24.0], [-40.0, -8.0]], Look::Faint);
    pen.figure(
        &[
            [-42.0, -12.0],
            [-24.0, -18.0],
            [-30.0, -6.0],
            [-22.0, 0.0],
            [-30.0, 4.0],
            [-26.0, 14.0],
            [-42.0, 2.0],
        ],
        Look::Faint,
    );
}

fn bilabiate(pen: &mut Pen) {
    side_calyx(pen);
    let upper = curve::smooth(&[
        [-36.0, 3.0],
        [-12.0, 14.0],
        [6.0, 34.0],
        [28.0, 40.0],
        [40.0, 30.0],
        [22.0, 20.0],
        [10.0, 4.0],
    ]);
    let lower = curve::smooth(&[
        [10.0, 4.0],
        [26.0, -6.0],
        [44.0, -24.0],
        [34.0, -40.0],
        [18.0, -34.0],
        [4.0, -18.0],
        [-14.0, -12.0],
        [-36.0, -8.0],
    ]);
    pen.figure(&[upper, lower].concat(), Look::BoldPaper);
    pen.smooth(&[[34.0, -38.0], [26.0, -28.0], [14.0, -18.0]], Look::Faint);
    pen.smooth(&[[10.0, 4.0], [-6.0, 2.0], [-20.0, -2.0]], Look::Faint);
}

/// Draws a pea flower from the side: standard, wings and keel.
fn pea(pen: &mut Pen, [standard, wing, keel]: [Look; 3]) {
    pen.smooth(&[[-44.0, -46.0], [-46.0, -24.0], [-38.0, -8.0]], Look::Faint);
    pen.figure(&[[-40.0, -14.0], [-22.0, -12.0], [-26.0, -2.0], [-22.0, 8.0], [-40.0, 0.0]], Look::Faint);
    pen.blob(
        &[
            [-26.0, -3.0],
            [-6.0, -24.0],
            [18.0, -32.0],
            [42.0, -22.0],
            [47.0, -2.0],
            [34.0, -8.0],
            [10.0, -8.0],
        ],
        keel,
    );
    pen.blob(&[[-24.0, 0.0], [-4.0, -12.0], [20.0, -18.0], [36.0, -6.0], [26.0, 6.0], [4.0, 6.0]], wing);
    let back = curve::smooth(&[
        [-28.0, 2.0],
        [-24.0, 24.0],
        [-6.0, 46.0],
        [14.0, 48.0],
        [20.0, 36.0],
        [8.0, 18.0],
        [-10.0, 6.0],
        [-28.0, 2.0],
    ]);
    pen.figure(&back, standard);
}

fn cruciform(pen: &mut Pen) {
    let petal = [[3.0, 4.0], [4.5, 14.0], [17.0, 26.0], [18.0, 40.0], [8.0, 47.0], [0.0, 46.0]];
    petals(pen, 4, &petal, Look::BoldPaper);
    pen.circle([0.0, 0.0], 5.0, Look::Ink);
}

fn spurred(pen: &mut Pen) {
    pen.smooth(&[[-26.0, 50.0], [-16.0, 42.0], [-8.0, 24.0]], Look::Faint);
    pen.blob(
        &[[-6.0, 18.0], [6.0, 36.0], [30.0, 40.0], [38.0, 28.0], [20.0, 18.0], [6.0, 14.0]],
        Look::FaintPaper,
    );
    pen.blob(
        &[[-2.0, 4.0], [14.0, 8.0], [34.0, -2.0], [44.0, -20.0], [28.0, -26.0], [10.0, -14.0]],
        Look::FaintPaper,
    );
    let upper = curve::smooth(&[[0.0, 16.0], [-14.0, 16.0], [-34.0, 0.0], [-46.0, -26.0], [-38.0, -40.0]]);
    let lower = curve::smooth(&[[-38.0, -40.0], [-32.0, -32.0], [-34.0, -22.0], [-20.0, -4.0], [-4.0, 2.0]]);
    pen.figure(&[upper, lower].concat(), Look::BoldGrey);
}

fn galeate(pen: &mut Pen) {
    side_calyx(pen);
    let hood = curve::smooth(&[
        [-36.0, 3.0],
        [-20.0, 24.0],
        [-4.0, 44.0],
        [22.0, 46.0],
        [40.0, 28.0],
        [42.0, 6.0],
        [30.0, 14.0],
        [16.0, 18.0],
        [6.0, 4.0],
    ]);
    pen.figure(&hood, Look::BoldGrey);
    pen.smooth(
        &[
            [6.0, 4.0],
            [20.0, -10.0],
            [32.0, -24.0],
            [22.0, -32.0],
            [4.0, -20.0],
            [-14.0, -12.0],
            [-36.0, -8.0],
        ],
        Look::Faint,
    );
}

fn saccate(pen: &mut Pen) {
    pen.smooth(&[[-2.0, 50.0], [-4.0, 40.0], [-6.0, 28.0]], Look::Faint);
    pen.smooth(&[[-6.0, 28.0], [14.0, 40.0], [36.0, 34.0], [20.0, 24.0]], Look::Faint);
    pen.smooth(&[[-6.0, 26.0], [-28.0, 36.0], [-42.0, 22.0], [-22.0, 20.0]], Look::Faint);
    pen.blob(
        &[
            [-18.0, 18.0],
            [-32.0, -4.0],
            [-30.0, -30.0],
            [-6.0, -46.0],
            [20.0, -36.0],
            [30.0, -10.0],
            [20.0, 14.0],
        ],
        Look::BoldGrey,
    );
    pen.oval([0.0, 16.0], [18.0, 6.0], Look::Ink);
}

fn corona(pen: &mut Pen) {
    petals(pen, 6, &[[0.0, 6.0], [9.0, 20.0], [11.0, 34.0], [0.0, 49.0]], Look::FaintPaper);
    let rim: Vec<At> = (0..=120_u8)
        .map(|step| {
            let turn = f32::from(step) / 120.0 * std::f32::consts::TAU;
            let reach = 20.0 + 2.5 * (turn * 12.0).sin();
            [reach * turn.cos(), reach * turn.sin()]
        })
        .collect();
    pen.figure(&rim, Look::BoldGrey);
    pen.circle([0.0, 0.0], 9.0, Look::Paper);
    pen.circle([0.0, 0.0], 3.0, Look::Ink);
}

fn clawed(pen: &mut Pen) {
    pen.twin(
        &curve::smooth(&[[3.0, 2.0], [16.0, 8.0], [27.0, 24.0], [20.0, 42.0], [8.0, 46.0], [0.0, 42.0]]),
        Look::FaintPaper,
    );
    pen.figure(&[[-3.0, 4.0], [3.0, 4.0], [2.4, -48.0], [-2.4, -48.0]], Look::Ink);
}
