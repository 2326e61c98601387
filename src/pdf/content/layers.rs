//! Layers of a file (optional content): which of them are not shown.

use std::collections::BTreeSet;

use lopdf::{Dictionary, Document, Object, ObjectId};

use crate::pdf::objects::{array, dictionary, get, name, resolve};

/// Parts of an expression of layers that are followed at most.
const MAX_PARTS: usize = 256;

/// The layers that are not shown.
#[derive(Debug, Default)]
pub(in crate::pdf) struct Layers {
    off: BTreeSet<ObjectId>,
}

impl Layers {
    /// Reads what the file says is off when it is opened.
    pub(in crate::pdf) fn read(file: &Document) -> Self {
        let Some(properties) =
            file.catalog().ok().and_then(|catalog| dictionary(file, catalog, b"OCProperties"))
        else {
            return Self::default();
        };
        let Some(usual) = dictionary(file, properties, b"D") else { return Self::default() };
        let list = |of: &Dictionary, key: &[u8]| -> BTreeSet<ObjectId> {
            let objects = array(file, of, key).unwrap_or_default();
            objects.iter().filter_map(|object| object.as_reference().ok()).collect()
        };
        let mut off = list(usual, b"OFF");
        if name(file, usual, b"BaseState").as_deref() == Some("OFF") {
            let on = list(usual, b"ON");
            off.extend(list(properties, b"OCGs").difference(&on));
        }
        switch_for_print(file, usual, &mut off);
        Self { off }
    }

    /// Tells whether what belongs to a layer, or to what several layers make together, is not shown.
    pub(in crate::pdf) fn hide(&self, file: &Document, layer: &Object) -> bool {
        if self.off.is_empty() {
            return false;
        }
        if layer.as_reference().is_ok_and(|id| self.off.contains(&id)) {
            return true;
        }
        let Object::Dictionary(group) = resolve(file, layer) else { return false };
        if let Some(expression) = array(file, group, b"VE") {
            return !self.shows(file, expression, &mut { MAX_PARTS });
        }
        let members: Vec<&Object> = match group.get(b"OCGs") {
            Ok(single @ Object::Reference(_))
                if get(file, group, b"OCGs").is_some_and(|o| o.as_array().is_err()) =>
            {
                vec![single]
            }
            _ => array(file, group, b"OCGs").unwrap_or_default().iter().collect(),
        };
        if members.is_empty() {
            return false;
        }
        let is_off = |member: &&Object| member.as_reference().is_ok_and(|id| self.off.contains(&id));
        match name(file, group, b"P").as_deref() {
            Some("AllOn") => members.iter().any(is_off),
            Some("AnyOff") => !members.iter().any(is_off),
            Some("AllOff") => !members.iter().all(is_off),
            Some(_) | None => members.iter().all(is_off),
        }
    }

    /// Tells whether an expression of layers holds; what can't be followed does. `left` counts the parts.
    fn shows(&self, file: &Document, expression: &[Object], left: &mut usize) -> bool {
        let Some((operator, parts)) = expression.split_first() else { return true };
        let mut holds = parts.iter().map_while(|part| {
            *left = left.checked_sub(1)?;
            Some(match resolve(file, part) {
                Object::Array(expression) => self.shows(file, expression, left),
                _ => !part.as_reference().is_ok_and(|id| self.off.contains(&id)),
            })
        });
        match resolve(file, operator).as_name() {
            Ok(b"And") => holds.all(|holds| holds),
            Ok(b"Or") => holds.any(|holds| holds),
            Ok(b"Not") => !holds.next().unwrap_or(false),
            Ok(_) | Err(_) => true,
        }
    }
}

/// Switches the layers that the file has switched by themselves where it is printed: a note that only a screen shows is no
/// part of the book.
fn switch_for_print(file: &Document, usual: &Dictionary, off: &mut BTreeSet<ObjectId>) {
    for entry in array(file, usual, b"AS").unwrap_or_default() {
        let Object::Dictionary(entry) = resolve(file, entry) else { continue };
        if name(file, entry, b"Event").as_deref() != Some("Print") {
            continue;
        }
        for layer in array(file, entry, b"OCGs").unwrap_or_default() {
            let (Ok(id), Object::Dictionary(group)) = (layer.as_reference(), resolve(file, layer)) else {
                continue;
            };
            let usage = dictionary(file, group, b"Usage").and_then(|usage| dictionary(file, usage, b"Print"));
            match usage.and_then(|usage| name(file, usage, b"PrintState")).as_deref() {
                Some("OFF") => _ = off.insert(id),
                Some("ON") => _ = off.remove(&id),
                Some(_) | None => {}
            }
        }
    }
}
