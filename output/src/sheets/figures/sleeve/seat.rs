//! The seat under the flange, how far it stands proud, the flats, and the fire ring on it.

use super::{Chosen, decimal, maybe, percent};
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

/// A list of figures: what, how much.
pub(super) fn figures_list(pages: &mut Pages, rows: Vec<[String; 2]>) {
    let columns =
        [Column::words("what", 330.0).size(10.5), Column::figures("how much", 185.0).bold().size(11.5)];
    let rows: Vec<Row> = rows.into_iter().map(|row| Row::Cells(row.to_vec())).collect();
    draw(pages, &columns, &rows);
}

impl Sheet<'_> {
    /// The ledge and what presses on it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn seat(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let seat = &chosen.choice.fit.seat;
        let flanged = chosen.sleeve.flange().is_some();
        let ledge = chosen.sleeve.seat_word();
        pages.heading("Seat", if seat.load.is_some() { 270.0 } else { 130.0 });
        let smallest = seat.smallest_at.map_or_else(String::new, |c| format!(", smallest at cylinder {c}"));
        let mut rows = vec![
            [format!("bearing area of the {ledge}{smallest}"), self.units.area(seat.area)?],
            [format!("width of the {ledge}"), self.spoken(seat.width)?],
        ];
        if let Some(width) = seat.width_at_flats {
            rows.push(["width at the flats".to_owned(), self.spoken(width)?]);
        }
        let mpa = |p: f64| -> Result<String, OutputError> { Ok(format!("{} MPa", decimal(p, 0)?)) };
        let mut add = |what: &str, value: Option<String>| {
            if let Some(value) = value {
                rows.push([what.to_owned(), value]);
            }
        };
        let kn = |n: f64| -> Result<String, OutputError> { Ok(format!("{} kN", decimal(n / 1000.0, 1)?)) };
        let clamp = if flanged {
            "clamp of the bolts on one cylinder"
        } else {
            "clamp of the bolts that stands on the sleeve"
        };
        add(clamp, seat.load.map(kn).transpose()?);
        add(&format!("pressure on the {ledge}"), seat.pressure.map(mpa).transpose()?);
        add("the same with every bolt at its most", seat.pressure_most.map(mpa).transpose()?);
        let bears =
            format!("what the block's metal bears for good at work, by {}", seat.bears_by.unwrap_or("yield"));
        add(&bears, seat.bears.map(mpa).transpose()?);
        add("yield of the block's metal at work", seat.yield_at_work.map(mpa).transpose()?);
        let ratio = seat.ratio.map(|r| -> Result<String, OutputError> { Ok(format!("{} %", percent(r)?)) });
        add("pressure over that yield", ratio.transpose()?);
        let gas = if flanged {
            "lift of the gas on the head"
        } else {
            "gas on the sleeve's end, which presses it down"
        };
        add(gas, seat.gas_load.map(kn).transpose()?);
        add(
            "pressure left if all of that lift came off the ledge",
            seat.pressure_at_peak.map(mpa).transpose()?,
        );
        add("pressure of the fire ring on the flange", seat.flange_pressure.map(mpa).transpose()?);
        if let Some(held) = &chosen.choice.fit.holding {
            let force = |n: Option<f64>| n.map(kn).transpose();
            let mut add = |what: String, value: Option<String>| rows.extend(value.map(|value| [what, value]));
            let friction = decimal(held.friction, 2)?;
            add(
                format!("friction ({friction}) holds, at the least interference, at 20 °C"),
                force(held.cold)?,
            );
            add("the same at work".to_owned(), force(held.at_work)?);
            add("pull of heat at work".to_owned(), force(Some(held.thermal_pull))?);
            add("left of friction at work, gas and heat taken off".to_owned(), force(held.left)?);
        }
        figures_list(pages, rows);
        if seat.load.is_none() {
            pages.paragraph(
                &format!("The job gives no head bolts: what presses on the {ledge} is not known."),
                Weight::Bold,
                BODY,
            );
        }
        Ok(())
    }

    /// Flange above the deck.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn protrusion(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let Some(protrusion) = &chosen.choice.fit.protrusion else { return self.proud(pages, chosen) };
        pages.heading(&format!("Flange above the deck, {}", self.units.name()), 60.0);
        let cut = self.planning.job.engine.deck;
        let deck = if cut.cut_mm > 0.0 { "final deck" } else { "deck" };
        pages.paragraph(
            &format!(
                "Asked: {} to {} above the {deck}. With flange and ledge at the ends of their tolerances it comes out at \
                 {} to {}.",
                self.spoken(protrusion.wanted_least)?,
                self.spoken(protrusion.wanted_most)?,
                self.spoken(protrusion.least)?,
                self.spoken(protrusion.most)?
            ),
            Weight::Plain,
            BODY,
        );
        if cut.cut_mm > 0.0 {
            let when = if cut.after_fit {
                "with the sleeves in, flanges and block flush"
            } else {
                "before the sleeves go in"
            };
            let text = format!("{} is still to be cut off the deck, {when}.", self.spoken(cut.cut_mm)?);
            pages.paragraph(&text, Weight::Bold, BODY);
        }
        if protrusion.decks.is_empty() {
            return Ok(());
        }
        let columns = [
            Column::words("deck read in", 130.0).bold(),
            Column::words("bank", 75.0),
            Column::figures("rise over the\nflange, along", 68.0),
            Column::figures("rise over the\nflange, across", 68.0),
            Column::figures("spread round\nthe flange", 62.0).bold(),
            Column::figures("cut that\nsquares it", 56.0),
            Column::figures("flatness", 56.0),
        ];
        let mut rows = Vec::new();
        for d in &protrusion.decks {
            rows.push(Row::Cells(vec![
                shorten(&d.set_up),
                shorten(&d.bank),
                self.signed(d.along)?,
                self.signed(d.across)?,
                self.fine(d.spread)?,
                self.fine(d.skim)?,
                self.fine(d.flatness)?,
            ]));
        }
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// How far a plain sleeve is left above the deck.
    fn proud(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let Some(foot) = chosen.sleeve.foot() else { return Ok(()) };
        pages.heading("Sleeve above the deck", 40.0);
        let text = if foot.proud_mm > 0.0 {
            format!(
                "Left {} above the deck once it is down on its step, then cut flush.",
                self.spoken(foot.proud_mm)?
            )
        } else {
            "Ends with the deck once it is down on its step.".to_owned()
        };
        pages.paragraph(&text, Weight::Plain, BODY);
        Ok(())
    }

    /// Flats of neighbours, cut to the distance that the centres really have.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn flats(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let flats = &chosen.choice.fit.flats;
        if flats.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("Flats between neighbours, {}", self.units.name()), 80.0);
        let columns = [
            Column::words("cylinders", 80.0).bold().size(11.0),
            Column::figures("centre to\ncentre", 76.0),
            Column::figures("off\nnominal", 64.0),
            Column::figures("gap as\nsupplied", 64.0),
            Column::figures("cut each flat:\ncentre to flat", 96.0).bold().size(11.5),
            Column::figures("leaves\na gap of", 70.0),
            Column::figures("gap\nat work", 70.0),
        ];
        // What is asked to the last figure printed is there already.
        let supplied = chosen.sleeve.flange().and_then(|f| f.flats_mm);
        let radius = chosen.sleeve.flange().map_or(f64::INFINITY, |f| f.diameter_mm / 2.0);
        let as_supplied = |mm: f64| supplied.is_some_and(|flats| (flats / 2.0 - mm).abs() < 0.0005);
        let mut alike: Vec<(String, Vec<String>)> = Vec::new();
        for pair in flats {
            let name = format!("{}–{}", pair.front, pair.rear);
            let cells = vec![
                self.fine(pair.distance)?,
                self.signed(pair.off_nominal)?,
                self.signed(pair.gap_as_supplied)?,
                if pair.centre_to_flat >= radius {
                    "none: round clears".to_owned()
                } else if as_supplied(pair.centre_to_flat) {
                    "none: as supplied".to_owned()
                } else {
                    self.fine(pair.centre_to_flat)?
                },
                self.fine(pair.gap)?,
                self.signed(pair.gap_hot)?,
            ];
            match alike.iter_mut().find(|(_, own)| *own == cells) {
                Some((names, _)) => names.push_str(&format!(", {name}")),
                None => alike.push((name, cells)),
            }
        }
        let row =
            |(name, cells): (String, Vec<String>)| Row::Cells(std::iter::once(name).chain(cells).collect());
        let rows: Vec<Row> = alike.into_iter().map(row).collect();
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// The gasket's fire ring on the flange.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn fire_ring(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let told = |cylinder: u32| !self.is_withheld(cylinder);
        let rings: Vec<_> = chosen.choice.fit.fire_ring.iter().filter(|r| told(r.cylinder)).collect();
        if rings.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("Fire ring on the flange, {}", self.units.name()), 90.0);
        let columns = [
            Column::words("cyl", 60.0).bold().size(11.0),
            Column::figures("width of\nthe ring", 70.0),
            Column::figures("least on\nthe flange", 76.0).bold().size(11.0),
            Column::words("where", 96.0),
            Column::figures("most on\nthe block", 70.0),
            Column::figures("most over\nthe bore", 70.0),
            Column::words("joint of flange\nand block under it", 100.0),
        ];
        let mut alike: Vec<(Vec<u32>, Vec<String>)> = Vec::new();
        for ring in rings {
            let bank = self.planning.job.site(ring.cylinder).map(|(bank, _)| bank);
            let cells = vec![
                self.depth(ring.ring)?,
                self.depth(ring.on_flange_least)?,
                maybe(bank, |bank| Ok(format!("{} side", self.sides(bank).clock(ring.least_at))))?,
                self.depth(ring.on_block_most)?,
                self.depth(ring.over_bore_most)?,
                if ring.joint_under { "YES" } else { "no" }.to_owned(),
            ];
            match alike.iter_mut().find(|(_, own)| *own == cells) {
                Some((cylinders, _)) => cylinders.push(ring.cylinder),
                None => alike.push((vec![ring.cylinder], cells)),
            }
        }
        let row = |(cylinders, cells): (Vec<u32>, Vec<String>)| {
            Row::Cells(std::iter::once(numbers(&cylinders)).chain(cells).collect())
        };
        let rows: Vec<Row> = alike.into_iter().map(row).collect();
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// 0.01 mm in a cell.
    pub(super) fn depth(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Depth)?.stacked())
    }
}
