//! The second back end: hayro-syntax follows what is asked for, through damage that stops the first one.
//!
//! What the wanted pages lead to is copied into the same kind of objects as the first back end gives; pictures are not.

use std::sync::Arc;

use hayro_syntax::object::{Array, Dict, MaybeRef, ObjRef, Object as Found, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Rotation};
use hayro_syntax::xref::XRef;
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};

use crate::pdf::Error;
use crate::pdf::objects::is_picture;
use crate::pdf::structure::{BackEnd, File, Wanted, damaged, swelling};

/// Objects within each other at most.
const MAX_DEPTH: usize = 64;
/// Objects copied at most.
const MAX_OBJECTS: usize = 1 << 20;
/// Bytes copied at most, as a multiple of the file's length: streams that lie over each other would be copied again and
/// again.
const MAX_COPIED: usize = 2;
/// Members that no text is read from, some of which lead to all of the file.
const SKIPPED: [&[u8]; 13] = [
    b"Parent",
    b"StructParent",
    b"StructParents",
    b"StructTreeRoot",
    b"ColorSpace",
    b"Pattern",
    b"Shading",
    b"PieceInfo",
    b"Metadata",
    b"SMask",
    b"Thumb",
    b"Group",
    b"Outlines",
];
/// Members of the catalogue that are read.
const OF_CATALOGUE: [&[u8]; 2] = [b"OCProperties", b"PageLabels"];
/// Members of what the catalogue says of form fields that are read.
const OF_FIELDS: [&[u8]; 1] = [b"DR"];
/// Members of a page that are copied as they are.
const OF_PAGE: [&[u8]; 2] = [b"Contents", b"Annots"];

/// Reads with hayro-syntax.
pub(super) struct Hayro;

impl BackEnd for Hayro {
    fn open(&self, bytes: &Arc<Vec<u8>>, wanted: Wanted) -> Result<File, Error> {
        swelling::refuse(bytes)?;
        let pdf = Pdf::new(Arc::clone(bytes)).map_err(|error| match error {
            LoadPdfError::Decryption(DecryptionError::PasswordProtected) => Error::NeedsPassword,
            LoadPdfError::Decryption(_) => damaged("its lock can't be opened"),
            LoadPdfError::Invalid => damaged("its structure can't be followed"),
        })?;
        let mut copy = Copy {
            xref: pdf.xref(),
            into: Document::new(),
            left: Vec::new(),
            room: bytes.len().saturating_mul(MAX_COPIED),
        };
        let pages: Vec<ObjectId> = pdf
            .pages()
            .iter()
            .enumerate()
            .map(|(index, page)| {
                let id = page_id(pdf.xref(), page, index);
                copy.page(id, wanted(id).then_some(page))
            })
            .collect();
        if pages.is_empty() {
            return Err(Error::NoPages);
        }
        copy.catalogue();
        if let Some(title) = &Pdf::metadata(&pdf).title {
            let title = Object::String(title.to_vec(), StringFormat::Literal);
            copy.into.trailer.set("Info", Object::Dictionary([("Title", title)].into_iter().collect()));
        }
        copy.follow();
        Ok(File { objects: copy.into, said: pages.len(), pages })
    }
}

/// Returns the id of a page; for one that is written into the tree, an id that no object of a file can have.
fn page_id(xref: &XRef, page: &Page, index: usize) -> ObjectId {
    let own = page.raw().obj_id().filter(|id| {
        // What is written into a node has the id of the node.
        xref.get::<Dict>(*id).is_some_and(|found| !found.contains_key("Kids"))
    });
    own.map_or((u32::MAX - index as u32, u16::MAX), |id| (id.obj_number, id.gen_number as u16))
}

/// Copies objects, and what they lead to.
struct Copy<'a> {
    xref: &'a XRef,
    into: Document,
    left: Vec<ObjRef>,
    /// Bytes that may still be copied.
    room: usize,
}

impl<'a> Copy<'a> {
    /// Copies a page, or keeps an empty place for one that is not wanted.
    fn page(&mut self, id: ObjectId, page: Option<&Page<'a>>) -> ObjectId {
        let mut dict = Dictionary::new();
        if let Some(page) = page {
            let four = |r: hayro_syntax::object::Rect| -> Object {
                [r.x0, r.y0, r.x1, r.y1]
                    .into_iter()
                    .map(|side| Object::Real(side as f32))
                    .collect::<Vec<_>>()
                    .into()
            };
            let turn = match page.rotation() {
                Rotation::None => 0,
                Rotation::Horizontal => 90,
                Rotation::Flipped => 180,
                Rotation::FlippedHorizontal => 270,
            };
            dict = self.members(page.raw(), 0, &|key| OF_PAGE.contains(&key));
            dict.set("Type", Object::Name(b"Page".to_vec()));
            dict.set("MediaBox", four(page.media_box()));
            dict.set("CropBox", four(page.crop_box()));
            dict.set("Rotate", Object::Integer(turn));
            let resources = self.resources(page);
            dict.set("Resources", resources);
        }
        self.into.objects.insert(id, Object::Dictionary(dict));
        id
    }

    /// Copies what a page draws with, its own or that of the node above it.
    fn resources(&mut self, page: &Page<'a>) -> Object {
        let held = page.resources();
        let lists = [
            ("Font", &held.fonts),
            ("XObject", &held.x_objects),
            ("ExtGState", &held.ext_g_states),
            ("Properties", &held.properties),
        ];
        let lists = lists.map(|(key, list)| (key, Object::Dictionary(self.members(list, 0, &|_| true))));
        Object::Dictionary(lists.into_iter().collect())
    }

    /// Copies what is read of the catalogue.
    fn catalogue(&mut self) {
        let Some(catalogue) = self.xref.get::<Dict<'a>>(self.xref.root_id()) else { return };
        let mut members = self.members(&catalogue, 0, &|key| OF_CATALOGUE.contains(&key));
        if let Some(fields) = catalogue.get::<Dict<'a>>("AcroForm") {
            let fields = self.members(&fields, 0, &|key| OF_FIELDS.contains(&key));
            members.set("AcroForm", Object::Dictionary(fields));
        }
        let root = self.xref.root_id();
        let id = id_of(ObjRef::new(root.obj_number, root.gen_number));
        self.into.objects.insert(id, Object::Dictionary(members));
        self.into.trailer.set("Root", Object::Reference(id));
    }

    /// Copies everything that was referred to, and what that refers to.
    fn follow(&mut self) {
        while let Some(found) = self.left.pop() {
            let id = id_of(found);
            if self.into.objects.contains_key(&id) || self.into.objects.len() >= MAX_OBJECTS || self.room == 0
            {
                continue;
            }
            // Its place is taken first, against objects that lead back to themselves.
            self.into.objects.insert(id, Object::Null);
            let identifier = ObjectIdentifier::new(found.obj_number, found.gen_number);
            if let Some(object) = self.xref.get::<Found<'a>>(identifier) {
                let copied = self.object(object, 0);
                self.into.objects.insert(id, copied);
            }
        }
    }

    fn members(&mut self, dict: &Dict<'a>, depth: usize, wanted: &dyn Fn(&[u8]) -> bool) -> Dictionary {
        let mut copied = Dictionary::new();
        for (key, value) in dict.entries() {
            let key: &[u8] = &key;
            if wanted(key) && !SKIPPED.contains(&key) {
                let value = self.held(value, depth);
                copied.set(key.to_vec(), value);
            }
        }
        copied
    }

    fn held(&mut self, object: MaybeRef<Found<'a>>, depth: usize) -> Object {
        match object {
            MaybeRef::Ref(found) => {
                self.left.push(found);
                Object::Reference(id_of(found))
            }
            MaybeRef::NotRef(object) => self.object(object, depth + 1),
        }
    }

    fn object(&mut self, object: Found<'a>, depth: usize) -> Object {
        if depth > MAX_DEPTH {
            return Object::Null;
        }
        match object {
            Found::Null(_) => Object::Null,
            Found::Boolean(is) => Object::Boolean(is),
            Found::Number(number) => {
                let (real, integer) = (number.as_f64(), number.as_i64());
                // Numbers that are the same either way are written as integers.
                if (integer as f64 - real).abs() < f64::EPSILON {
                    Object::Integer(integer)
                } else {
                    Object::Real(real as f32)
                }
            }
            Found::String(text) => {
                let bytes = self.taken(&text);
                Object::String(bytes, StringFormat::Literal)
            }
            Found::Name(name) => Object::Name(self.taken(&name)),
            Found::Dict(dict) => Object::Dictionary(self.members(&dict, depth, &|_| true)),
            Found::Array(array) => self.array(&array, depth),
            Found::Stream(stream) => self.stream(&stream, depth),
        }
    }

    fn array(&mut self, array: &Array<'a>, depth: usize) -> Object {
        let mut copied = Vec::new();
        for object in array.raw_iter() {
            if self.room == 0 {
                break;
            }
            self.room -= 1;
            copied.push(self.held(object, depth));
        }
        Object::Array(copied)
    }

    /// Copies a stream as it is packed, but unlocked; of a picture, only what it says of itself.
    fn stream(&mut self, stream: &Stream<'a>, depth: usize) -> Object {
        let dict = self.members(stream.dict(), depth, &|_| true);
        let content = if is_picture(&dict) { Vec::new() } else { self.taken(&stream.raw_data()) };
        Object::Stream(lopdf::Stream::new(dict, content).with_compression(false))
    }

    /// Copies bytes while there is room for them.
    fn taken(&mut self, bytes: &[u8]) -> Vec<u8> {
        if bytes.len() > self.room {
            self.room = 0;
            return Vec::new();
        }
        self.room -= bytes.len();
        bytes.to_vec()
    }
}

fn id_of(found: ObjRef) -> ObjectId {
    (found.obj_number, found.gen_number as u16)
}
