//! What is taken in hand before a list runs: its file, its tools and how far they stand out, what the touch check touches, and
//! what of the time can be asked.

use borewright_planner::explain::Question;
use borewright_planner::plan::moves::{Move, MoveList};
use borewright_planner::plan::{Pass, Stage};

use super::deal::Deal;
use super::flow::{Ask, Block};
use super::order::Kind;
use crate::OutputError;
use crate::paper::text::{Fonts, Weight};
use crate::said::row::line_number;
use crate::said::short::shorten;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Files and tools of a stage of a bank; empty where it has neither.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn load(&self, fonts: &Fonts, bank: &str, stage: Stage) -> Result<String, OutputError> {
        let mut said: Vec<String> = Vec::new();
        let lists = self.planning.lists.iter().zip(&self.plan.lists);
        let own = lists.filter(|(list, _)| list.bank == bank && list.stage == stage);
        let files: Vec<String> = own
            .map(|(list, entry)| {
                let file = entry.file.trim_start_matches("lists/");
                format!("{file} ({} rows)", list.moves.len())
            })
            .collect();
        if !files.is_empty() {
            said.push(format!("Call up {}.", files.join(", ")));
        }
        let first = |list: &MoveList| list.moves.iter().find_map(|m| m.z_mm);
        let own = self.planning.lists.iter().filter(|list| list.bank == bank && list.stage == stage);
        if let Some(z) = own.filter_map(first).reduce(f64::min) {
            let z = self.machine.length(z, Digits::Depth)?.spoken();
            said.push(format!("It goes up to Z {z} first: bring the tool no higher by hand, else its first move comes down, fast."));
        }
        let mut names: Vec<&str> = Vec::new();
        for pass in self.plan.passes.iter().filter(|p| p.bank == bank && p.stage == stage) {
            if let Some(name) = pass.tool.as_deref().filter(|name| !names.contains(name)) {
                names.push(name);
            }
        }
        let mut tools = Vec::new();
        for name in names {
            let tool = self.planning.job.machine.tools.iter().find(|t| t.name == name);
            let reach = tool.map(|t| self.units.length(t.reach_mm, Digits::Depth)).transpose()?;
            let reach = reach.map_or_else(String::new, |reach| format!(", stick-out {}", reach.spoken()));
            tools.push(format!("{}{reach}", shorten(name)));
        }
        if !tools.is_empty() {
            said.push(format!("Tool: {}.", tools.join("; ")));
        }
        if stage == Stage::Pocket
            && let Some(card) = self.card_number(fonts, Kind::Pocket)
        {
            said.push(format!("Its sizes and depths are drawn on card {card}."));
        }
        Ok(said.join(" "))
    }

    /// What is called up for a list, as a line of the work.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn load_step(&self, deal: &mut Deal<'_>, bank: &str, stage: Stage) -> Result<(), OutputError> {
        let words = self.load(deal.fonts, bank, stage)?;
        if !words.is_empty() {
            deal.step(&words, Weight::Bold);
        }
        Ok(())
    }

    /// The same of a list whose proving has no line of its own.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn load_and_prove_step(
        &self,
        deal: &mut Deal<'_>,
        bank: &str,
        stage: Stage,
    ) -> Result<(), OutputError> {
        let words = self.load(deal.fonts, bank, stage)?;
        if !words.is_empty() {
            deal.step(&format!("{words} Prove it above the work first."), Weight::Bold);
        }
        Ok(())
    }

    /// From which row its list is run for a bore again: it has gone on to the next. Empty where a pass is in no list.
    pub(super) fn again_from(&self, pass: &Pass) -> String {
        let own = self.planning.lists.iter().find(|l| l.bank == pass.bank && l.stage == pass.stage);
        let row = own.and_then(|list| {
            let of_bore = |m: &Move| m.pass == Some(pass.step) && m.cylinder == Some(pass.cylinder);
            let first = list.moves.iter().position(|m| of_bore(m) && m.x_mm.is_some())?;
            Some(line_number(list.moves.len(), first))
        });
        row.map_or_else(String::new, |row| format!(" (list from N{row})"))
    }

    /// What the touch check of a stage touches, as the list has it.
    pub(super) fn touched(&self, stage: Stage) -> String {
        let bores = match stage {
            Stage::Rough => "the old bores at the deck",
            Stage::Finish => "the sleeves",
            _ => "the bores just cut",
        };
        let plate = stage == Stage::Finish && self.planning.job.finish.plate_mm.is_some();
        format!("Middles of {bores}; Z on {}.", if plate { "top of the plate" } else { "the deck" })
    }

    /// Notes what can be asked of the time of a card: of its lists, else of its stages.
    pub(super) fn note_time(&self, deal: &mut Deal<'_>, bank: Option<&str>, stages: &[Stage]) {
        let lists = self.planning.lists.iter();
        let own = lists.filter(|l| Some(l.bank.as_str()) == bank && stages.contains(&l.stage));
        let mut asked: Vec<Ask> = own
            .map(|l| (format!("time of list {}", l.number), Question::Lists { numbers: vec![l.number] }))
            .collect();
        let times = self.plan.times.iter().filter(|t| bank.is_none() && stages.contains(&t.stage));
        asked.extend(times.map(|t| {
            let stage = t.stage.word();
            (format!("{stage}: time"), Question::Stage { stage: stage.to_owned() })
        }));
        deal.note(Block::Why(asked));
    }
}
