//! The shop's file: limits, instruments and allowances of the house, which stand where a job states none.

use super::checker::Checker;
use super::figures;
use super::gathered::Files;
use crate::files::{JobFile, SHOP_FORMAT, ShopFile};
use crate::job::{Block, Limits};
use crate::limits::parent_wall::THRUST;
use crate::read::fault::{Fault, plain};
use crate::read::source::Source;

/// The house's own figures, with the file that they are read from.
#[derive(Default)]
pub(super) struct Shop {
    /// The file, where the job names one that can be read.
    file: Option<(Source, ShopFile)>,
    /// What of it is sound; nothing without a file.
    pub(super) figures: ShopFigures,
}

/// The figures of a shop's file.
#[derive(Default)]
pub(super) struct ShopFigures {
    pub(super) limits: Limits,
    pub(super) instruments: figures::SomeInstruments,
    pub(super) allowances: figures::SomeAllowances,
}

impl Shop {
    /// The shop that a job names.
    pub(super) fn of(job: &Source, file: &JobFile, files: &mut Files) -> Self {
        let check = |source: &Source, file: &ShopFile| {
            let (_, faults) = read(source, file);
            if faults.is_empty() { Ok(()) } else { Err(faults) }
        };
        let found = file.shop.as_ref().and_then(|name| files.described(job, "shop", name, check));
        let Some((source, file, _)) = found else { return Self::default() };
        let (figures, _) = read(&source, &file);
        Self { file: Some((source, file)), figures }
    }

    /// Tells instruments that neither file gives, pointed at where they would come from; nothing where the shop's file
    /// cannot be read, which may give them.
    pub(super) fn instruments_missing(&self, c: &mut Checker<'_>, file: &JobFile, files: &Files) {
        if file.shop.is_some() && self.file.is_none() || files.amended.has("shop") {
            return;
        }
        let shop = self.file.as_ref().map(|(_, file)| &file.instruments);
        for name in figures::missing(&file.instruments, shop) {
            let place = file.shop.as_ref().map_or(file.format.place, |shop| shop.place);
            let found = if file.shop.is_some() { "nothing, here or in the shop file" } else { "nothing" };
            let expected = "a standard uncertainty: verdicts rest on it";
            c.fault(place, &format!("instruments.{name}"), found.into(), expected);
        }
    }

    /// A limit on the thrust side, of the job or the shop, of a block that does not say which way its crankshaft turns.
    pub(super) fn no_thrust_side(
        &self,
        job: &Source,
        file: &JobFile,
        own: &Limits,
        block: &Block,
    ) -> Option<Fault> {
        if block.rotation.is_some() {
            return None;
        }
        own.get(THRUST.name).or_else(|| self.figures.limits.get(THRUST.name))?;
        let of_job = file.limits.place(&THRUST).map(|place| (job, place));
        let of_shop =
            || self.file.as_ref().and_then(|(source, file)| Some((source, file.limits.place(&THRUST)?)));
        let (stated, place) = of_job.or_else(of_shop).unwrap_or((job, file.format.place));
        let expected =
            "`rotation` in the block file, clockwise or anticlockwise: it says which side is the thrust side";
        let found = format!("a thrust limit, and no rotation in block `{}`", plain(&block.name, 40));
        Some(stated.fault(Some(place), &format!("limits.{}", THRUST.name), found, expected.into()))
    }
}

/// The figures of a shop's file that are sound, and the faults of the others.
fn read(source: &Source, file: &ShopFile) -> (ShopFigures, Vec<Fault>) {
    let mut c = Checker::new(source, file.units);
    c.format(&file.format, SHOP_FORMAT);
    let figures = ShopFigures {
        limits: figures::limits(&mut c, &file.limits),
        instruments: figures::instruments(&mut c, &file.instruments),
        allowances: figures::allowances(&mut c, &file.allowances),
    };
    (figures, c.faults)
}
