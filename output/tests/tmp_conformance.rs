//! Temporary.
#[test]
fn all() {
    let mut n = 0;
    for e in std::fs::read_dir("/work/shared/conformance").unwrap() {
        let dir = e.unwrap().path();
        if !dir.join("job").is_dir() {
            continue;
        }
        let name = dir.file_name().unwrap().to_string_lossy().into_owned();
        let job = match borewright_planner::load(&dir.join("job")) {
            Ok(j) => j,
            Err(f) => {
                eprintln!("{name} load {f:?}");
                continue;
            }
        };
        let release = Some(borewright_planner::plan::Release { who: "M. Teal".into(), why: "tried".into() });
        let planning = match borewright_planner::plan_job(job, release) {
            Ok(p) => p,
            Err(f) => {
                eprintln!("{name} plan {f}");
                continue;
            }
        };
        let t = std::time::Instant::now();
        let made = borewright_output::bundle(&planning);
        let t = t.elapsed();
        match made {
            Ok(b) => {
                for a in b.artifacts {
                    let p = std::path::Path::new("/tmp/look/c").join(&name).join(a.path);
                    std::fs::create_dir_all(p.parent().unwrap()).unwrap();
                    std::fs::write(p, a.bytes).unwrap();
                }
                eprintln!(
                    "{name} {:?} {:?} cyl {} passes {} lists {}",
                    planning.plan.verdict,
                    t,
                    planning.plan.cylinders.len(),
                    planning.plan.passes.len(),
                    planning.lists.len()
                );
            }
            Err(f) => eprintln!("{name} OUTPUT {f}"),
        }
        n += 1;
    }
    eprintln!("{n}");
}
