//! `pace` and `completions` from the command line.

use crate::command::Workdir;

/// By the definition of the slope of distance on time (Wakayoshi et al. 1992, Int J Sports Med
/// 13(5):367-371; two swims: Dekerle et al. 2002, Int J Sports Med 23(2):93-98): 200 m in 190 s are
/// 1:35.00 per 100; 350 in 286 s 1:21.71; 200 in 210 s 1:45.00. By least squares, three swims
/// 1:30.00 and four 85.4332 s.
#[test]
fn timed_swims_come_to_their_pace() {
    let workdir = Workdir::new();
    for (swims, exact, written) in [
        (&["200=2:50", "400=6:00"][..], "1:35.00 per 100", "1:35"),
        (&["50m=0:34", "400m=5:20"][..], "1:21.71 per 100 m", "1:22"),
        (&["200=3:00", "400=6:30"][..], "1:45.00 per 100", "1:45"),
        (&["100=75", "200=165", "400=345"][..], "1:30.00 per 100", "1:30"),
        (&["50=32", "100=72", "200=158", "400=330"][..], "1:25.43 per 100", "1:25"),
    ] {
        let ran = workdir.run(&[&["pace"], swims].concat());
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let mut lines = ran.out.lines();
        assert_eq!(lines.next(), Some(exact));
        assert_eq!(lines.next(), Some(format!("in a session file: pace = \"{written}\"").as_str()));
        // The published caution, and whose figure it is: 200 and 400 over-estimate by 3.2 %.
        let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        let whose = "In well-trained swimmers 200 and 400 gave 3.2 % too much";
        assert!(words.contains(whose), "{}", ran.out);
        assert!(ran.out.contains("no test of health"), "{}", ran.out);
    }
}

#[test]
fn swims_that_give_no_pace_are_refused() {
    let workdir = Workdir::new();
    for (swims, told) in [
        (&["200=2:50"][..], "a pace takes two timed swims at least"),
        (&["200=2:50", "400"][..], "has no =; write distance=time"),
        (&["200=2:50", "400=2:50"][..], "400 cannot take no longer than 200"),
        (&["200m=2:50", "400yd=6:00"][..], "some swims are in metres and some in yards"),
        (&["200=0:20", "400=0:40"][..], "which nobody swims"),
    ] {
        let ran = workdir.run(&[&["pace"], swims].concat());
        assert_eq!((ran.exit, ran.out.as_str()), (2, ""), "{swims:?}");
        assert!(ran.err.contains(told), "{swims:?}: {}", ran.err);
    }
    let slower = workdir.run(&["pace", "200=3:10", "400=6:00"]);
    assert!(slower.out.contains("A shorter swim was slower"), "{}", slower.out);
}

#[test]
fn every_shell_gets_completions_that_know_every_command() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let ran = Workdir::new().run(&["completions", shell]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        for word in ["print", "check", "show", "fit", "lanes", "pace", "minutes"] {
            assert!(ran.out.contains(word), "{word} for {shell}");
        }
    }
}
