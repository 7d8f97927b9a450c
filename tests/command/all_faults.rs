//! Files at fault in their form: what is wrong with the rest is told in the same run, and nothing that is not.

use crate::common::Folder;

/// The first lines of the faults told, without their excerpts.
fn told(job: &Folder) -> Vec<String> {
    let said = job.rejected();
    said.lines().filter(|line| line.contains(": found ")).map(str::to_owned).collect()
}

/// Each fault told starts with one of these, one each, and there are no others.
#[track_caller]
fn are_told(job: &Folder, starts: &[&str]) {
    let told = told(job);
    for start in starts {
        assert_eq!(told.iter().filter(|line| line.starts_with(start)).count(), 1, "{start}\n{told:#?}");
    }
    assert_eq!(told.len(), starts.len(), "{told:#?}");
}

#[test]
fn a_wrong_word_unknown_doubled_and_missing_keys_hide_neither_each_other_nor_other_files() {
    let job = Folder::base("base");
    job.edit("job.yaml", "aim: journal\n", "aim: jurnal\nfoo: 1\nbar: 2\naim: parent\n");
    job.edit("job.yaml", "    witness: witness.csv", "    witness: nowhere.csv");
    job.edit("job.yaml", "tolerance: 0.012", "tolerance: 12");
    job.edit("job.yaml", "customer: Alderbeck Engine Works\n", "");
    job.edit("job.yaml", "job: \"0731\"\n", "");
    job.edit("bores.csv", "1,70,", "1,7O,");
    job.edit("block.yaml", "rotation: clockwise", "rotation: sideways");
    job.edit("block.yaml", "{ name: \"2\", x: 92.0 }", "{ name: \"2\", x: 92.0, y: 1 }");
    job.edit("block.yaml", "bore_length: 125.0", "bore_length: 1250.0");
    job.edit("sleeve.yaml", "thickness: 6.0", "thickness: [6.0]");
    job.edit("machine.yaml", "reach: 170.0", "reach: 0");
    job.edit("shop.yaml", "centre: 0.003", "centre: 0.003\n  sentre: 0.003");
    are_told(
        &job,
        &[
            "job.yaml:3:1: job: found nothing, expected the key `job`",
            "job.yaml:9:6: aim: found `jurnal`, expected one of `journal`, `parent`",
            "job.yaml:10:1: foo: found the unknown key `foo`",
            "job.yaml:11:1: bar: found the unknown key `bar`",
            "job.yaml:12:1: aim: found the key `aim` a second time",
            "job.yaml:13:52: finish.tolerance: found 12",
            "block.yaml:7:11: rotation: found `sideways`",
            "block.yaml:17:29: journal_axis.mains[1].y: found the unknown key `y`",
            "block.yaml:23:16: parent.bore_length: found 1250",
            "sleeve.yaml:9:38: flange.thickness: found a list",
            "machine.yaml:14:12: tools[0].reach: found 0",
            "shop.yaml:18:3: instruments.sentre: found the unknown key `sentre`",
            "bores.csv:4:3: depth: found `7O`",
            "job.yaml:22:14: readings[0].witness: found `nowhere.csv`: no such file",
        ],
    );
}

#[test]
fn one_slip_is_one_fault() {
    let slips: [(&str, &str, &str, &str); 9] = [
        ("job.yaml", "units: mm", "units: inch", "job.yaml:6:8: units: found `inch`"),
        ("job.yaml", "block: block.yaml", "blok: block.yaml", "job.yaml:7:1: blok: found the unknown key"),
        ("job.yaml", "    frame: journal", "    frame: jornal", "job.yaml:18:12: readings[0].frame: found"),
        ("job.yaml", "    bank: bank\n", "", "job.yaml:16:5: readings[0].bank: found nothing"),
        ("job.yaml", "finish: {", "finish: 76\nfinnish: {", "job.yaml:12:9: finish: found `76`"),
        ("block.yaml", "units: mm", "units: cm", "block.yaml:5:8: units: found `cm`"),
        ("block.yaml", "deck_height", "deck_hight", "block.yaml:9:1: deck_hight: found the unknown key"),
        ("block.yaml", "{ name: bank, ", "{ ", "block.yaml:20:5: banks[0].name: found nothing"),
        (
            "block.yaml",
            "format: borewright/block/1",
            "format: borewright/sleeve/1\nno: 1",
            "block.yaml:2:9: format: found",
        ),
    ];
    for (file, old, new, start) in slips {
        let job = Folder::base("base");
        job.edit(file, old, new);
        let mut starts = vec![start];
        if new.contains("finnish") {
            starts.push("job.yaml:13:1: finnish: found the unknown key");
        }
        are_told(&job, &starts);
    }
}

#[test]
fn tables_are_read_without_a_block_as_far_as_they_can_be() {
    let job = Folder::base("base");
    job.edit("block.yaml", "deck_height: 180.0", "deck_height: 18 cm");
    job.edit("bores.csv", "76.022", "76,022");
    job.edit("walls.csv", "6.12", "thin");
    job.edit("witness.csv", "cylinder", "zylinder");
    are_told(
        &job,
        &[
            "block.yaml:9:14: deck_height: found `18 cm`",
            "bores.csv:8:",
            "walls.csv:4:9: wall: found `thin`",
            "witness.csv:",
        ],
    );
}
