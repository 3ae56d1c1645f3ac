//! A project file read as far as its keys, to be made into a project again and again with some of its values changed.
//!
//! Variants, sizes to try and samples all go the way of the file itself: what a builder could not write is refused here too.

use super::bench::{Sheets, named_sheets, plates, tests_of_plates};
use super::keys;
use super::section::{Context, OPEN};
use super::tree::{Entry, Node, Span, Table, Value};
use super::{format, line, not_a_project, shorten, syntax, walk, walk_bench};
use crate::desk;
use crate::diagnostic::{Diagnostic, Diagnostics, Severity, SourceText};
use crate::material::Library;
use crate::model::{Bench, Gear, Project};
use crate::units::Unit;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;
use toml::de::DeTable;

/// A project file whose keys and values have been found and not yet judged.
#[derive(Debug, Clone)]
pub struct Draft {
    pub(super) source: Arc<SourceText>,
    pub(super) table: Table,
    /// The same before anything was changed in it.
    written: Arc<Table>,
    /// What the reader of TOML could not read; each is about one value.
    complaints: Vec<Diagnostic>,
    /// Metals of graded sheets.
    sheets: Sheets,
}

/// A project of a file: the file itself or one of its variants.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// The variant's name; `None` for the file itself.
    pub name: Option<String>,
    /// What it makes.
    pub project: Project,
}

/// One value of a file changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Dotted key, such as `gear.main.plate.thickness`; items of a list count from 1, as in `gear.main.brace.1.diameter`.
    pub key: String,
    /// What it becomes.
    pub to: NewValue,
}

/// What a value becomes.
#[derive(Debug, Clone, PartialEq)]
pub enum NewValue {
    /// A text, as it would stand between quotes.
    Text(String),
    /// A plain number.
    Number(f64),
    /// It is taken out, with all that is below it.
    Nothing,
}

impl Change {
    /// A value that becomes another text.
    pub fn text(key: impl Into<String>, to: impl Into<String>) -> Self {
        Self { key: key.into(), to: NewValue::Text(to.into()) }
    }
}

impl Draft {
    /// Finds the keys of a text.
    ///
    /// # Errors
    /// When the text as a whole is no project file.
    pub fn new(source: Arc<SourceText>) -> Result<Self, Diagnostics> {
        if let Some(refused) = not_a_project(&source) {
            return Err(Diagnostics(vec![refused]));
        }
        let (document, errors) = DeTable::parse_recoverable(&source.text);
        let complaints = syntax::complaints(&source, &errors);
        if !complaints.readable {
            return Err(Diagnostics(complaints.diagnostics));
        }
        let table = Table::new(document.get_ref());
        let written = Arc::new(table.clone());
        Ok(Self { source, table, written, complaints: complaints.diagnostics, sheets: Sheets::default() })
    }

    pub(super) const fn source(&self) -> &Arc<SourceText> {
        &self.source
    }

    pub(super) const fn table(&self) -> &Table {
        &self.table
    }

    /// The draft with some of its values changed.
    #[must_use]
    pub fn changed(&self, changes: &[Change]) -> Self {
        Self { table: self.table.changed(changes), ..self.clone() }
    }

    /// What is asked of a gear that leaves nothing open: how thick its plate has to be, and whether its wires are needed.
    #[must_use]
    pub fn usual_questions(&self, gear: &Gear) -> Vec<Change> {
        let plate = format!("gear.{}.plate", gear.name);
        let open = |key: String| Change::text(key, OPEN);
        let even = gear.plate.thickness.root == gear.plate.thickness.tip;
        // A leg that thins is cut from a sheet as thick as its root.
        let thickness = open(format!("{plate}.{}", if even { "thickness" } else { "thickness_root" }));
        let wires = self.fitted_keys(&gear.name).into_iter().map(open);
        std::iter::once(thickness).chain(wires).collect()
    }

    /// The changes with which every brace of a gear is fitted, the gear being given by its place in the file.
    #[must_use]
    pub fn fitted(&self, gear: usize) -> Vec<Change> {
        let Some(Value::Table(gears)) = self.table.get("gear").map(|e| &e.node.value) else {
            return Vec::new();
        };
        let name = gears.entries.get(gear).map(|e| e.key.as_str());
        let keys = name.map(|name| self.fitted_keys(name)).unwrap_or_default();
        keys.into_iter().map(|key| Change::text(key, "yes")).collect()
    }

    /// The key of each brace of a gear that says whether it is fitted.
    fn fitted_keys(&self, gear: &str) -> Vec<String> {
        let below = |value: &'_ Value, key: &str| match value {
            Value::Table(table) => table.get(key).map(|e| e.node.value.clone()),
            _ => None,
        };
        let gears = self.table.get("gear").map(|e| &e.node.value);
        let braces = gears.and_then(|g| below(g, gear)).and_then(|g| below(&g, "brace"));
        let Some(Value::List(braces)) = braces else { return Vec::new() };
        (1..=braces.len()).map(|i| format!("gear.{gear}.brace.{i}.fitted")).collect()
    }

    /// Reads the project with some of its values changed. A message about a changed value points at what it stands in for.
    ///
    /// # Errors
    /// Everything wrong with the text, in its order. Warnings are among them, so that nothing has to be found out twice.
    pub fn read(
        &self,
        library: &Library,
        changes: &[Change],
    ) -> Result<(Project, Vec<Diagnostic>), Diagnostics> {
        if changes.is_empty() {
            self.read_table(library, &self.table, None)
        } else {
            self.read_table(library, &self.table.changed(changes), None)
        }
    }

    /// Reads the project as it is when some of its values are off, each by so many of its tolerances.
    ///
    /// The key is that of [`crate::model::Tolerance::key`]; +1 is the value with its whole tolerance added. A value that would come
    /// to lie beyond what its key accepts is taken at that limit. What is bought stays what the file says: the band of the metal's
    /// table, the listed size of a wire, the thread on a rod go by the written sizes and not by those of the sample.
    ///
    /// # Errors
    /// What is wrong with a project of these values.
    pub fn sampled(
        &self,
        library: &Library,
        deviations: &BTreeMap<String, f64>,
    ) -> Result<Project, Diagnostics> {
        self.read_table(library, &self.table, Some(deviations)).map(|(project, _)| project)
    }

    /// Reads the project of the file itself. Its variants are read too, so that a mistake in one is found before it is wanted; what is
    /// only doubtful in them is said by who compares them.
    ///
    /// # Errors
    /// Everything wrong with the text, in its order.
    pub fn read_file(&self, library: &Library) -> Result<(Project, Vec<Diagnostic>), Diagnostics> {
        if self.table.get("variant").is_some() {
            self.read_designs(library)?;
        }
        self.read(library, &[])
    }

    /// Reads the file itself and each of its variants: the first project is the file's, and has no name of its own.
    ///
    /// # Errors
    /// Everything wrong with the file and with any of its variants, in the order of the text.
    pub fn read_designs(&self, library: &Library) -> Result<(Vec<Design>, Vec<Diagnostic>), Diagnostics> {
        let (variants, whole) = self.laid_over();
        let itself = self.read(library, &[]);
        let (mut designs, mut found, mut good) = (Vec::new(), whole, true);
        match itself {
            Ok((project, warnings)) => {
                designs.push(Design { name: None, project });
                found.extend(warnings);
            }
            Err(Diagnostics(errors)) => {
                found.extend(errors);
                good = false;
            }
        }
        for mut variant in variants {
            let own = std::mem::take(&mut variant.found);
            let broken = own.iter().any(|d| d.severity == Severity::Error);
            found.extend(own);
            if broken {
                continue;
            }
            // Once what the file itself has wrong is mended its variants may be right.
            let (project, said) = match self.read_table(library, &variant.table, None) {
                Ok((project, warnings)) => (Some(project), warnings),
                Err(_) if !good => (None, Vec::new()),
                Err(Diagnostics(errors)) => (None, errors),
            };
            designs.extend(project.map(|project| Design { name: Some(variant.name.to_owned()), project }));
            for diagnostic in said {
                if !found.contains(&diagnostic) {
                    found.push(variant.told(diagnostic));
                }
            }
        }
        // What is told of the whole file comes last: how many more mistakes there are.
        let place = |d: &Diagnostic| d.location.as_ref().map(|p| (p.span.start, p.span.end));
        found.sort_by_key(|d| (d.location.is_none(), place(d)));
        found.dedup();
        if found.iter().all(|d| d.location.is_some()) {
            shorten(&mut found, 0);
        }
        if good && found.iter().all(|d| d.severity == Severity::Warning) {
            Ok((designs, found))
        } else {
            Err(Diagnostics(found))
        }
    }

    /// Names of the variants, in the order of the file.
    #[must_use]
    pub fn variants(&self) -> Vec<&str> {
        match self.table.get("variant").map(|e| &e.node.value) {
            Some(Value::Table(section)) => section.entries.iter().map(|e| e.key.as_str()).collect(),
            _ => Vec::new(),
        }
    }

    /// Reads the project with one of its variants laid over it; `None` when the file has no such variant.
    ///
    /// # Errors
    /// Everything wrong with the variant and the project it makes. Warnings are among them.
    pub fn read_variant(
        &self,
        library: &Library,
        name: &str,
    ) -> Option<Result<(Project, Vec<Diagnostic>), Diagnostics>> {
        let mut variant = self.laid_over().0.into_iter().find(|v| v.name == name)?;
        let own = std::mem::take(&mut variant.found);
        if own.iter().any(|d| d.severity == Severity::Error) {
            return Some(Err(Diagnostics(own)));
        }
        let told = |found: Vec<Diagnostic>| -> Vec<Diagnostic> {
            own.iter().cloned().chain(found.into_iter().map(|d| variant.told(d))).collect()
        };
        Some(match self.read_table(library, &variant.table, None) {
            Ok((project, warnings)) => Ok((project, told(warnings))),
            Err(Diagnostics(errors)) => Err(Diagnostics(told(errors))),
        })
    }

    /// Whether the file describes no aircraft, so that it can only be about sheets.
    #[must_use]
    pub fn is_bench_only(&self) -> bool {
        ["aircraft", "landing", "gear"].iter().all(|section| self.table.get(section).is_none())
    }

    /// Does ahead what takes longest in the readings to come: following the drops that tell of the metal of some plate.
    ///
    /// `progress` is told how much of it is done, and how much there is. What is wrong with the file is left to its reading.
    pub fn prepare(&self, library: &Library, progress: &dyn Fn(usize, usize)) {
        if let Ok((bench, ..)) = self.read_bench(library) {
            desk::follow_drops(&tests_of_plates(&self.table, &bench), progress);
        }
    }

    /// Reads what was tried with sheets, the units it is written in, and what is doubtful about it.
    ///
    /// # Errors
    /// Everything wrong with those sections, in the order of the text.
    pub fn read_bench(&self, library: &Library) -> Result<(Bench, Vec<Unit>, Vec<Diagnostic>), Diagnostics> {
        let cx = self.context(library, None);
        let bench = if format(&cx, &self.table) { walk_bench(&cx, &self.table) } else { Bench::default() };
        let found = self.found(cx.found.into_inner(), cx.uncounted.get());
        if found.iter().all(|d| d.severity == Severity::Warning) {
            let mut echoes = cx.echoes.into_inner();
            echoes.sort_by_key(|echo| echo.at);
            Ok((bench, echoes.into_iter().map(|echo| echo.unit).collect(), found))
        } else {
            Err(Diagnostics(found))
        }
    }

    /// The file as it is written, whatever is tried now: its gears as they were when one was dropped, plates of tested sheets of unknown
    /// metal; `None` when it can't be read, or has gears with open values.
    pub(super) fn as_dropped(&self, library: &Library) -> Option<Arc<Project>> {
        let sheets = named_sheets(&self.written);
        let unknown = plates(&self.written)
            .filter(|(_, metal, _)| sheets.iter().any(|sheet| sheet == metal))
            .map(|(gear, ..)| Change::text(format!("gear.{gear}.plate.metal"), keys::UNKNOWN));
        let without = ["bench_test", "bench_prior", "drop_test", "variant", "size"];
        let without = without.map(|key| Change { key: key.to_owned(), to: NewValue::Nothing });
        let changes: Vec<Change> = unknown.chain(without).collect();
        let (project, _) = self.read_table(library, &self.written.changed(&changes), None).ok()?;
        Some(Arc::new(project))
    }

    /// What the file, as it is written, says that a gear's plate is of.
    pub(super) fn metal_of(&self, gear: &str) -> Option<String> {
        let metal = plates(&self.written).find(|(name, ..)| *name == gear);
        metal.map(|(_, metal, _)| metal.to_owned())
    }

    fn context<'a>(
        &'a self,
        library: &'a Library,
        deviations: Option<&'a BTreeMap<String, f64>>,
    ) -> Context<'a> {
        Context {
            source: &self.source,
            library,
            sheets: &self.sheets,
            draft: self,
            found: RefCell::new(Vec::new()),
            echoes: RefCell::new(Vec::new()),
            tolerances: RefCell::new(Vec::new()),
            deviations,
            uncounted: Cell::new(0),
        }
    }

    /// Everything wrong or doubtful, in the order of the text.
    fn found(&self, noted: Vec<Diagnostic>, uncounted: usize) -> Vec<Diagnostic> {
        let mut found = self.complaints.clone();
        let seen: Vec<usize> = found.iter().filter_map(line).collect();
        // A line that could not be read well has had its message.
        found.extend(noted.into_iter().filter(|d| line(d).is_none_or(|at| !seen.contains(&at))));
        found.sort_by_key(|d| d.location.as_ref().map(|place| (place.span.start, place.span.end)));
        found.dedup();
        shorten(&mut found, uncounted);
        found
    }

    fn read_table(
        &self,
        library: &Library,
        table: &Table,
        deviations: Option<&BTreeMap<String, f64>>,
    ) -> Result<(Project, Vec<Diagnostic>), Diagnostics> {
        let cx = self.context(library, deviations);
        let project = if format(&cx, table) { walk(&cx, table) } else { None };
        let found = self.found(cx.found.into_inner(), cx.uncounted.get());
        let mut echoes = cx.echoes.into_inner();
        echoes.sort_by_key(|echo| echo.at);
        match project {
            Some(mut project) if found.iter().all(|d| d.severity == Severity::Warning) => {
                let mut tolerances = cx.tolerances.into_inner();
                tolerances.sort_by_key(|placed| placed.at);
                project.tolerances = tolerances.into_iter().map(|placed| placed.tolerance).collect();
                project.written_units = echoes.iter().map(|echo| echo.unit).collect();
                project.readings = echoes.into_iter().map(|echo| echo.reading).collect();
                Ok((project, found))
            }
            _ => Err(Diagnostics(found)),
        }
    }
}

impl Table {
    fn changed(&self, changes: &[Change]) -> Self {
        let mut table = self.clone();
        // What is taken out goes last: the items after it would change their numbers.
        let (out, set): (Vec<&Change>, Vec<&Change>) =
            changes.iter().partition(|c| c.to == NewValue::Nothing);
        for change in set {
            table.set(&change.key, &change.to);
        }
        for change in out.iter().rev() {
            table.set(&change.key, &change.to);
        }
        table
    }

    /// Changes the value at a dotted key; sections on the way that are missing are made.
    fn set(&mut self, key: &str, to: &NewValue) {
        let Some((first, rest)) = key.split_once('.') else {
            match to.value() {
                None => self.entries.retain(|e| e.key != key),
                Some(value) => match self.entries.iter_mut().find(|e| e.key == key) {
                    Some(entry) => entry.node.value = value,
                    None => self.push(key, value),
                },
            }
            return;
        };
        if !self.entries.iter().any(|e| e.key == first) {
            if *to == NewValue::Nothing {
                return;
            }
            self.push(first, Value::Table(Self::default()));
        }
        let Some(entry) = self.entries.iter_mut().find(|e| e.key == first) else { return };
        entry.node.set(rest, to);
    }

    /// Adds an entry; for want of a place of its own it is said to be where the section's first key is.
    fn push(&mut self, key: &str, value: Value) {
        let span: Span = self.entries.first().map_or(0..0, |e| e.key_span.clone());
        self.entries.push(Entry { key: key.to_owned(), key_span: span.clone(), node: Node { span, value } });
    }
}

impl Node {
    fn set(&mut self, key: &str, to: &NewValue) {
        match &mut self.value {
            Value::Table(table) => table.set(key, to),
            Value::List(items) => {
                let (index, rest) = key.split_once('.').map_or((key, None), |(i, r)| (i, Some(r)));
                let Some(index) = index.parse::<usize>().ok().and_then(|i| i.checked_sub(1)) else { return };
                match (rest, to.value()) {
                    (None, None) if index < items.len() => {
                        items.remove(index);
                    }
                    (None, Some(value)) => {
                        if let Some(item) = items.get_mut(index) {
                            item.value = value;
                        }
                    }
                    (Some(rest), _) => {
                        if let Some(item) = items.get_mut(index) {
                            item.set(rest, to);
                        }
                    }
                    (None, None) => {}
                }
            }
            Value::Text(_) | Value::Number(_) | Value::Truth | Value::Date => {}
        }
    }
}

impl NewValue {
    fn value(&self) -> Option<Value> {
        match self {
            Self::Text(text) => Some(Value::Text(text.clone())),
            Self::Number(number) => Some(Value::Number(*number)),
            Self::Nothing => None,
        }
    }
}
