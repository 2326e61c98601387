//! Inflorescences as plans: lines for stalks, discs for flowers, larger where they open first.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for inflorescences.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("spike", |pen| spike(pen, Look::Line)),
    ("raceme", |pen| raceme(pen, Look::Line)),
    ("panicle", panicle),
    ("compound spike", compound_spike),
    ("corymb", corymb),
    ("umbel", |pen| umbel(pen, Look::Line)),
    ("compound umbel", |pen| compound_umbel(pen, Look::Line)),
    ("head", head),
    ("catkin", catkin),
    ("spadix", |pen| spadix(pen, [Look::BoldPaper, Look::Faint])),
    ("spathe", |pen| spadix(pen, [Look::Faint, Look::Bold])),
    ("dichasium", |pen| dichasium(pen, 1)),
    ("monochasium", monochasium),
    ("scorpioid", scorpioid),
    ("rhipidium", rhipidium),
    ("thyrse", thyrse),
    ("verticillaster", verticillaster),
    ("anthela", anthela),
    ("secund", secund),
    ("one-flowered", one_flowered),
    ("determinate", |pen| opening(pen, |share| 6.5 - 5.0 * share)),
    ("indeterminate", |pen| opening(pen, |share| 2.0 + 5.0 * share)),
    ("glomerule", glomerule),
];

/// Radius of a flower.
pub(in crate::sketch) const FLOWER: f32 = 4.6;

/// Draws a flower at the end of a stalk.
pub(in crate::sketch) fn stalked(pen: &mut Pen, from: At, to: At, look: Look) {
    pen.line(&[from, to], look);
    flower(pen, to, FLOWER, look);
}

/// Draws a flower as a disc, or as a ring where it steps back.
pub(in crate::sketch) fn flower(pen: &mut Pen, at: At, radius: f32, look: Look) {
    pen.circle(at, radius, if look == Look::Faint { Look::FaintPaper } else { Look::Ink });
}

fn axis(pen: &mut Pen, top: f32, look: Look) {
    pen.line(&[[0.0, -50.0], [0.0, top]], look);
}

/// Draws flowers that sit on an axis.
pub(in crate::sketch) fn spike(pen: &mut Pen, look: Look) {
    axis(pen, 46.0, look);
    for step in 0..9_u8 {
        let side = if step % 2 == 0 { -1.0 } else { 1.0 };
        flower(pen, [side * 6.0, -22.0 + 8.0 * f32::from(step)], FLOWER, look);
    }
    flower(pen, [0.0, 47.0], 3.0, look);
}

/// Draws flowers on stalks along an axis.
pub(in crate::sketch) fn raceme(pen: &mut Pen, look: Look) {
    axis(pen, 44.0, look);
    for step in 0..7_u8 {
        let (side, rise) = (if step % 2 == 0 { -1.0 } else { 1.0 }, f32::from(step));
        let (foot, reach) = (-26.0 + 10.0 * rise, 26.0 - 2.2 * rise);
        stalked(pen, [0.0, foot], [side * reach, foot + reach * 0.5], look);
    }
    flower(pen, [0.0, 46.0], 3.0, look);
}

fn panicle(pen: &mut Pen) {
    axis(pen, 44.0, Look::Line);
    for step in 0..4_u8 {
        let (foot, size) = (-34.0 + 18.0 * f32::from(step), 1.0 - 0.2 * f32::from(step));
        for side in [-1.0, 1.0] {
            let end = [side * 40.0 * size, foot + 8.0 * side + 20.0 * size];
            let from = [0.0, foot + 4.0 * side];
            pen.line(&[from, end], Look::Line);
            pen.circle(end, 3.4, Look::Ink);
            twig(pen, [from, end], size);
        }
    }
    flower(pen, [0.0, 46.0], 3.4, Look::Line);
}

/// Draws two stalked flowers on a branch.
fn twig(pen: &mut Pen, branch: [At; 2], size: f32) {
    for (share, up) in [(0.45, 12.0), (0.7, -9.0)] {
        let (at, _) = curve::along(&branch, share);
        let end = [at[0] + branch[1][0].signum() * 6.0 * size, at[1] + up * size];
        pen.line(&[at, end], Look::Line);
        pen.circle(end, 3.4, Look::Ink);
    }
}

fn compound_spike(pen: &mut Pen) {
    axis(pen, 46.0, Look::Line);
    for (side, foot) in [(-1.0, -26.0), (1.0, -14.0), (-1.0, 4.0), (1.0, 14.0)] {
        let end = [side * 32.0, foot + 28.0];
        pen.line(&[[0.0, foot], end], Look::Line);
        for share in [0.4, 0.62, 0.84] {
            let (at, way) = curve::along(&[[0.0, foot], end], share);
            for across in [-4.6, 4.6] {
                pen.circle([at[0] - way[1] * across, at[1] + way[0] * across], 3.0, Look::Ink);
            }
        }
    }
    for step in 0..3_u8 {
        for side in [-5.0, 5.0] {
            pen.circle([side, 28.0 + 8.0 * f32::from(step)], 3.0, Look::Ink);
        }
    }
}

fn corymb(pen: &mut Pen) {
    axis(pen, 34.0, Look::Line);
    for (foot, reach) in [(-34.0, 44.0), (-20.0, 30.0), (-4.0, 16.0)] {
        stalked(pen, [0.0, foot], [-reach, 32.0], Look::Line);
        stalked(pen, [0.0, foot + 7.0], [reach, 32.0], Look::Line);
    }
    flower(pen, [0.0, 35.0], FLOWER, Look::Line);
}

/// Draws flowers on stalks from one point.
pub(in crate::sketch) fn umbel(pen: &mut Pen, look: Look) {
    axis(pen, -14.0, look);
    for step in 0..7_u8 {
        let (sine, cosine) = (30.0 + 20.0 * f32::from(step)).to_radians().sin_cos();
        stalked(pen, [0.0, -14.0], [46.0 * cosine, -14.0 + 54.0 * sine], look);
    }
}

/// Where the rays of a compound umbel begin.
pub(in crate::sketch) const RAYS_FROM: At = [0.0, -26.0];

/// Returns where the rays of a compound umbel end, and their angles from the upright.
pub(in crate::sketch) fn rays() -> impl Iterator<Item = (At, f32)> {
    [52.0, 26.0, 0.0, -26.0, -52.0_f32].into_iter().map(|lean| {
        let (sine, cosine) = lean.to_radians().sin_cos();
        ([RAYS_FROM[0] - 38.0 * sine, RAYS_FROM[1] + 50.0 * cosine], lean)
    })
}

/// Draws umbels on stalks from one point.
pub(in crate::sketch) fn compound_umbel(pen: &mut Pen, look: Look) {
    axis(pen, RAYS_FROM[1], look);
    for (end, lean) in rays() {
        pen.line(&[RAYS_FROM, end], look);
        pen.at(end, (lean, 1.0), |pen| umbellet(pen, look));
    }
}

/// Draws a small umbel upwards from the middle.
pub(in crate::sketch) fn umbellet(pen: &mut Pen, look: Look) {
    for end in [[-10.0, 13.0], [0.0, 17.0], [10.0, 13.0]] {
        pen.line(&[[0.0, 0.0], end], look);
        flower(pen, end, 3.0, look);
    }
}

fn head(pen: &mut Pen) {
    axis(pen, -18.0, Look::Line);
    let bowl = curve::arc([0.0, -4.0], [34.0, 18.0], (180.0, 360.0));
    pen.figure(&bowl, Look::Paper);
    for x in [-24.0, -8.0, 8.0, 24.0_f32] {
        pen.smooth(&[[x, -20.0 + x.abs() * 0.3], [x * 1.2, -12.0], [x * 1.1, -4.0]], Look::Line);
    }
    for row in 0..3_u8 {
        let (count, up) = (7 - 2 * row, f32::from(row));
        for step in 0..count {
            let x = (f32::from(step) - f32::from(count - 1) / 2.0) * 10.0;
            let bulge = 6.0 - x * x / 160.0;
            pen.line(&[[x * 0.9, -2.0], [x, up * 9.0 + bulge]], Look::Line);
            flower(pen, [x, 4.0 + up * 9.0 + bulge], FLOWER, Look::Line);
        }
    }
}

fn catkin(pen: &mut Pen) {
    pen.smooth(&[[-46.0, 44.0], [-14.0, 46.0], [20.0, 48.0]], Look::Bold);
    pen.smooth(&[[-4.0, 46.0], [0.0, 38.0], [0.0, 28.0]], Look::Line);
    for step in 0..7_u8 {
        let (y, wide) = (30.0 - 11.0 * f32::from(step), 15.0 - (f32::from(step) - 2.5).powi(2) * 0.5);
        for side in [-1.0, 1.0] {
            pen.blob(
                &[[0.0, y + 4.0], [side * wide, y], [side * wide, y - 10.0], [0.0, y - 6.0]],
                Look::Paper,
            );
        }
        pen.circle([-5.0, y - 3.0], 1.6, Look::Ink);
        pen.circle([5.0, y - 3.0], 1.6, Look::Ink);
    }
}

/// Draws a thick spike and the bract around it.
fn spadix(pen: &mut Pen, [spike, bract]: [Look; 2]) {
    let back =
        [[-8.0, -30.0], [-24.0, -14.0], [-26.0, 8.0], [-12.0, 30.0], [6.0, 50.0], [20.0, 24.0], [25.0, 4.0]];
    let mut sheath = curve::smooth(&back);
    sheath.extend(curve::smooth(&[[25.0, 4.0], [22.0, -14.0], [8.0, -30.0]]));
    pen.line(&[[0.0, -50.0], [0.0, -30.0]], bract);
    pen.figure(&sheath, bract);
    let club = curve::smooth(&[[0.0, -26.0], [7.0, -20.0], [8.0, 0.0], [6.0, 26.0], [0.0, 33.0]]);
    pen.twin(&club, spike);
    if spike != Look::Faint {
        for step in 0..7_u8 {
            let y = -18.0 + 7.0 * f32::from(step);
            pen.circle([if step % 2 == 0 { -2.5 } else { 2.5 }, y], 1.5, Look::Ink);
        }
    }
    pen.smooth(&[[-8.0, -30.0], [-2.0, -18.0], [14.0, -6.0], [25.0, 4.0]], bract);
}

/// Draws a flower between two side branches that do the same, so many times over.
fn dichasium(pen: &mut Pen, deep: u8) {
    axis(pen, -18.0, Look::Line);
    fork(pen, ([0.0, -18.0], 28.0), deep);
}

fn fork(pen: &mut Pen, (at, reach): (At, f32), deep: u8) {
    let size = reach / 28.0;
    pen.line(&[at, [at[0], at[1] + 24.0 * size]], Look::Line);
    pen.circle([at[0], at[1] + 24.0 * size], 2.2 + 3.8 * size, Look::Ink);
    for side in [-1.0, 1.0] {
        let end = [at[0] + side * reach * 0.86, at[1] + reach * 0.85];
        pen.line(&[at, end], Look::Line);
        if deep > 0 {
            fork(pen, (end, reach * 0.5), deep - 1);
        } else {
            pen.circle(end, 2.8, Look::Ink);
        }
    }
}

fn monochasium(pen: &mut Pen) {
    let (mut at, mut up) = ([-18.0, -50.0], 29.0);
    for step in 0..4_u8 {
        let node = [at[0], at[1] + up * 0.6];
        pen.line(&[at, node, [node[0] - 12.0, node[1] + up * 0.6]], Look::Line);
        flower(pen, [node[0] - 12.0, node[1] + up * 0.6], 7.0 - f32::from(step), Look::Line);
        at = [node[0] + up * 0.5, node[1] + up * 0.36];
        pen.line(&[node, at], Look::Line);
        up *= 0.84;
    }
    flower(pen, at, 3.0, Look::Line);
}

fn scorpioid(pen: &mut Pen) {
    let coil: Vec<At> = (0..=40_u8)
        .map(|step| {
            let share = f32::from(step) / 40.0;
            let (sine, cosine) = (180.0 - 560.0 * share).to_radians().sin_cos();
            let radius = 28.0 * (1.0 - share * 0.86);
            [2.0 + radius * cosine, 14.0 + radius * sine]
        })
        .collect();
    pen.smooth(&[[-22.0, -50.0], [-25.0, -20.0], [-26.0, 14.0]], Look::Line);
    pen.line(&coil, Look::Line);
    for step in 0..9_u8 {
        let share = f32::from(step) / 10.0;
        let (at, way) = curve::along(&coil, share);
        let out = 9.0 * (1.0 - share * 0.7);
        let end = [at[0] - way[1] * out, at[1] + way[0] * out];
        pen.line(&[at, end], Look::Line);
        pen.circle(end, 5.2 * (1.0 - share * 0.75), Look::Ink);
    }
    stalked(pen, [-25.0, -8.0], [-36.0, -4.0], Look::Line);
}

fn rhipidium(pen: &mut Pen) {
    let mut at = [0.0, -50.0];
    for (step, side) in [-1.0, 1.0, -1.0, 1.0].into_iter().enumerate() {
        let (node, size) = ([at[0], at[1] + 16.0], 1.0 - 0.12 * step as f32);
        pen.line(&[at, node], Look::Line);
        stalked(pen, node, [node[0] + side * 34.0 * size, node[1] + 22.0 * size], Look::Line);
        at = [node[0] - side * 5.0, node[1] + 2.0];
        pen.line(&[node, at], Look::Line);
    }
    flower(pen, at, FLOWER, Look::Line);
}

fn thyrse(pen: &mut Pen) {
    axis(pen, 40.0, Look::Line);
    for (foot, size) in [(-32.0, 1.0), (-8.0, 0.85), (14.0, 0.65)] {
        for side in [-1.0, 1.0] {
            let node = [side * 22.0 * size, foot + 10.0 * size];
            pen.line(&[[0.0, foot], node], Look::Line);
            for end in [[side * 34.0 * size, foot + 27.0 * size], [side * 12.0 * size, foot + 28.0 * size]] {
                pen.line(&[node, end], Look::Line);
                pen.circle(end, 3.2, Look::Ink);
            }
            let middle = [side * 38.0 * size, foot + 10.0 * size];
            pen.line(&[node, middle], Look::Line);
            pen.circle(middle, 5.0 * size.max(0.7), Look::Ink);
        }
    }
    flower(pen, [0.0, 44.0], FLOWER, Look::Line);
}

fn verticillaster(pen: &mut Pen) {
    pen.line(&[[-3.0, -50.0], [-3.0, 48.0]], Look::Line);
    pen.line(&[[3.0, -50.0], [3.0, 48.0]], Look::Line);
    for (y, size) in [(-26.0, 1.0), (4.0, 0.85), (32.0, 0.65)] {
        for side in [-1.0, 1.0] {
            let leaf = [[side * 4.0, y - 4.0], [side * 26.0 * size, y - 6.0], [side * 46.0 * size, y - 14.0]];
            let under =
                [[side * 46.0 * size, y - 14.0], [side * 24.0 * size, y - 15.0], [side * 4.0, y - 6.0]];
            pen.figure(&[curve::smooth(&leaf), curve::smooth(&under)].concat(), Look::Paper);
            for (x, up) in [(6.0, 4.0), (14.0, 4.0), (10.0, 11.0), (19.0, 9.0), (2.0, 10.0)] {
                pen.circle([side * x * size, y + up * size], 4.2 * size, Look::Ink);
            }
        }
    }
}

fn anthela(pen: &mut Pen) {
    axis(pen, -12.0, Look::Line);
    flower(pen, [0.0, -10.0], 5.5, Look::Line);
    for (side, reach, top) in [
        (-1.0, 40.0, 44.0),
        (1.0, 42.0, 34.0),
        (-1.0, 22.0, 26.0),
        (1.0, 20.0, 16.0),
        (1.0, 12.0, 2.0),
        (-1.0, 11.0, 8.0),
    ] {
        let stem = [[0.0, -28.0], [side * reach * 0.7, top * 0.3], [side * reach, top]];
        pen.smooth(&stem, Look::Line);
        flower(pen, [side * reach, top], FLOWER, Look::Line);
    }
}

fn secund(pen: &mut Pen) {
    let stem = curve::smooth(&[[-22.0, -50.0], [-20.0, -10.0], [-10.0, 24.0], [14.0, 46.0]]);
    pen.line(&stem, Look::Line);
    for step in 0..7_u8 {
        let share = 0.28 + 0.11 * f32::from(step);
        let (at, _) = curve::along(&stem, share);
        let reach = 24.0 - 2.0 * f32::from(step);
        stalked(pen, at, [at[0] + reach, at[1] - 4.0], Look::Line);
    }
}

fn one_flowered(pen: &mut Pen) {
    axis(pen, 22.0, Look::Line);
    for side in [-1.0, 1.0] {
        let leaf = curve::smooth(&[[0.0, -48.0], [side * 10.0, -28.0], [side * 34.0, -16.0]]);
        let back = curve::smooth(&[[side * 34.0, -16.0], [side * 20.0, -34.0], [0.0, -48.0]]);
        pen.figure(&[leaf, back].concat(), Look::Faint);
    }
    pen.circle([0.0, 30.0], 13.0, Look::Ink);
}

/// Draws a raceme whose flowers are as large as they are far open, by their share of the way up.
fn opening(pen: &mut Pen, radius: impl Fn(f32) -> f32) {
    axis(pen, 40.0, Look::Line);
    for step in 0..6_u8 {
        let (side, share) = (if step % 2 == 0 { -1.0 } else { 1.0 }, 1.0 - f32::from(step) / 6.0);
        let (foot, reach) = (-32.0 + 11.0 * f32::from(step), 28.0 - 2.0 * f32::from(step));
        let end = [side * reach, foot + reach * 0.5];
        pen.line(&[[0.0, foot], end], Look::Line);
        pen.circle(end, radius(share), if radius(share) > 5.0 { Look::Ink } else { Look::Paper });
    }
    pen.circle([0.0, 43.0], radius(0.0), Look::Ink);
}

fn glomerule(pen: &mut Pen) {
    axis(pen, 48.0, Look::Line);
    for side in [-1.0, 1.0] {
        let leaf = [[0.0, -14.0], [side * 22.0, -6.0], [side * 46.0, -22.0]];
        let back = [[side * 46.0, -22.0], [side * 24.0, -22.0], [0.0, -14.0]];
        pen.figure(&[curve::smooth(&leaf), curve::smooth(&back)].concat(), Look::Paper);
        for (x, y) in [(5.0, -6.0), (14.0, -4.0), (9.0, 4.0), (18.0, 5.0), (4.0, 12.0), (12.0, 13.0)] {
            pen.circle([side * x, y], 4.6, Look::Ink);
        }
    }
}
