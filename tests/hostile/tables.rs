//! Reading tables that are bombs, garbage or oddly typed.

use std::fs::File;
use std::io::{Seek, SeekFrom, Write};

use crate::common::Folder;

fn in_place_of_the_bores(text: impl AsRef<[u8]>) -> String {
    let job = Folder::base("base");
    job.write("bores.csv", text);
    job.rejected()
}

const HEADER: &str = "cylinder,depth,x,y,diameter\n";

#[test]
fn columns_without_end_are_told_in_bounds() {
    for text in [
        "c,".repeat(1_000_000),
        format!("{HEADER}{}", "1,".repeat(1_000_000)),
        ",".repeat(1_000_000),
        format!("{HEADER}{}", ",".repeat(1_000_000)),
        format!("{HEADER}{}", "\"\",".repeat(500_000)),
    ] {
        let said = in_place_of_the_bores(text);
        assert!(said.len() < 20_000, "{} bytes said", said.len());
        assert!(said.lines().all(|line| line.chars().count() < 1000));
    }
}

/// Walls of both bores all over their lower registers, every one of them thick but the last that is asked for.
fn walls(rows: u32, thin: Option<(f64, u32)>) -> String {
    let mut text = "cylinder,depth,clock,wall\n".to_owned();
    for row in 0..rows {
        let (cylinder, at) = (row % 2 + 1, f64::from(row / 2));
        let deep = 70.0 + 50.0 * at * 2.0 / f64::from(rows);
        // A step that shares no divisor with the circle comes round everywhere.
        let clock = (at * 137.0) % 360.0;
        let wall = 6.2 + 0.1 * (at * 0.7 + f64::from(cylinder)).sin();
        text.push_str(&format!("{cylinder},{deep:.4},{clock:.1},{wall:.4}\n"));
    }
    if let Some((deep, clock)) = thin {
        text.push_str(&format!("2,{deep:.4},{clock},4.30\n"));
    }
    text
}

#[test]
fn one_thin_wall_among_thousands_decides() {
    for (rows, thin, status) in
        [(20_000, None, 0), (20_000, Some((90.0, 270)), 3), (5000, Some((119.0, 180)), 3)]
    {
        let job = Folder::base("base");
        job.write("walls.csv", walls(rows, thin));
        let run = job.check();
        assert_eq!(run.status, Some(status), "{rows} {thin:?}: {}{}", run.out, run.err);
        if let Some((deep, clock)) = thin {
            assert!(
                run.out.contains(&format!("{deep:.1}")) && run.out.contains(&clock.to_string()),
                "{}",
                run.out
            );
        }
    }
}

#[test]
fn a_line_without_end_is_refused_or_told_in_bounds() {
    // Within the bound on a table, a line of zeros after a good header.
    for size in [60_000_000_u64, 100_000_000] {
        let job = Folder::base("base");
        let mut file = File::create(job.job().join("bores.csv")).unwrap();
        file.write_all(HEADER.as_bytes()).unwrap();
        file.seek(SeekFrom::Start(size - 1)).unwrap();
        file.write_all(b"\n").unwrap();
        drop(file);
        let said = job.rejected();
        assert!(said.len() < 10_000, "{} bytes said", said.len());
        if size > 64 * 1024 * 1024 {
            assert!(said.contains("a file larger than that, expected at most 65536 KiB"), "{said}");
        }
    }
    let said = in_place_of_the_bores(format!("{HEADER}1,20,{},0,76\n", "4".repeat(10_000_000)));
    assert!(said.starts_with("bores.csv:2:6: x: found `444"), "{}", &said[..200]);
    assert!(said.len() < 2000);
    in_place_of_the_bores(format!("{HEADER}\"{}", "\n".repeat(3_000_000)));
    in_place_of_the_bores(format!("{HEADER}{}", "#\n".repeat(3_000_000)));
    in_place_of_the_bores(format!("{HEADER}{}", "1,x\n".repeat(3_000_000)));
}

#[test]
fn quotes_line_ends_and_blanks_are_read_as_tables_have_them() {
    let rows = "1,20,46.031,0.022,76.021\n1,115,46.033,0.021,76.024\n2,20,138.018,0.028,76.026\n2,115,138.02,0.026,76.022\n";
    let quoted: String = rows.lines().map(|row| format!("\"{}\"\n", row.replace(',', "\",\""))).collect();
    for (name, text) in [
        ("plain", format!("{HEADER}{rows}")),
        ("marked", format!("\u{feff}{HEADER}{rows}")),
        ("other line ends", format!("{HEADER}{rows}").replace('\n', "\r\n")),
        ("old line ends", format!("{HEADER}{rows}").replace('\n', "\r")),
        ("no last line end", format!("{HEADER}{}", rows.trim_end())),
        ("blank lines", format!("\n\n{HEADER}\n   \n{}\n\t\n", rows.replace('\n', "\n\n"))),
        ("comments", format!("# a\n{HEADER}# b, c\n{}", rows.replace('\n', "\n# d\n"))),
        ("quoted", format!("{HEADER}{quoted}")),
        ("spaced", format!("{HEADER}{}", rows.replace(',', " ,  "))),
        (
            "in another order",
            format!(
                "diameter,y,x,depth,cylinder\n{}",
                rows.lines()
                    .map(|row| {
                        let mut cells: Vec<&str> = row.split(',').collect();
                        cells.reverse();
                        format!("{}\n", cells.join(","))
                    })
                    .collect::<String>()
            ),
        ),
    ] {
        let job = Folder::base("base");
        job.write("bores.csv", text);
        let run = job.check();
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{name}");
    }
}

#[test]
fn faults_after_odd_lines_still_stand_at_their_own() {
    for (text, start) in [
        (
            format!("# a\n\n{HEADER}# b\n\n1,20,46,0,76\n# c\n1,70,wide,0,76\n"),
            "bores.csv:8:6: x: found `wide`",
        ),
        (format!("{HEADER}1,20,\"4\n6\",0,76\n1,70,wide,0,76\n"), "bores.csv:2:6: x: found `4?6`"),
        (format!("{HEADER}1,20,46,0,76\r\n1,70,wide,0,76\r\n"), "bores.csv:3:6: x: found `wide`"),
        (format!("{HEADER}1,20,46,0,7\06\n"), "bores.csv:2:11: diameter: found `7?6`"),
        (format!("{HEADER}1,20,\u{1b}[31m46,0,76\n"), "bores.csv:2:6: x: found `?[31m46`"),
        (format!("{HEADER}1,20,\u{202e}46,0,76\n"), "bores.csv:2:6: x: found `?46`"),
        (format!("{HEADER}1,20,４６,0,76\n"), "bores.csv:2:6: x: found `４６`"),
        (format!("{HEADER}4294967297,20,46,0,76\n"), "bores.csv:2:1: cylinder: found `4294967297`"),
        (format!("{HEADER}-1,20,46,0,76\n"), "bores.csv:2:1: cylinder: found `-1`"),
        ("cylinder,depth,x,y,\u{1b}[2J\n".into(), "bores.csv:1:20: found the unknown column `?[2J`"),
    ] {
        let said = in_place_of_the_bores(text);
        assert!(said.starts_with(start), "wanted {start}\n{said}");
        assert!(!said.contains('\u{1b}') && !said.contains('\0') && !said.contains('\u{202e}'));
    }
}
