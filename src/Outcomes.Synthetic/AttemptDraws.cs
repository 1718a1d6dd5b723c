using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Single attempts.</summary>
internal static class AttemptDraws
{
    public static Attempt Laryngoscopy(Randomizer draw, string technique, bool success)
    {
        var outcome = success ? "success" : draw.Weighted(
            (36, "no_view"), (38, "cannot_pass_tube"), (9, "oesophageal"), (12, "desaturation_abandoned"),
            (3, "vomit_soiling"), (2, "equipment"));
        return new Attempt("A", technique, technique, outcome)
        {
            BladeShape = technique switch
            {
                "video" => draw.Weighted((6, "standard"), (4, "hyperangulated")),
                "direct" => "standard",
                _ => null,
            },
            Introducer = technique == "flexible_scope" ? "none" : draw.Weighted((48, "bougie"), (17, "stylet"), (35, "none")),
            BladeInsertions = draw.Chance(success ? 930 : 750) ? 1 : 2,
            TubePasses = outcome switch
            {
                "success" or "cannot_pass_tube" => draw.Chance(940) ? 1 : 2,
                "oesophageal" => 1,
                _ => 0,
            },
            View = View(draw, outcome),
            DurationSeconds = success ? draw.Bell(15, 70) : draw.Bell(30, 120),
            Co2After = outcome switch
            {
                "success" => "sustained",
                "oesophageal" => "not_sustained",
                _ => "not_used",
            },
        };
    }

    /// <summary>The next laryngoscopy after a failed one: something is always changed.</summary>
    public static Attempt Again(Randomizer draw, Attempt before, bool success)
    {
        var toVideo = before.Technique == "direct" && draw.Chance(750);
        var newOperator = draw.Chance(400) || before.Technique != "direct";
        var next = Laryngoscopy(draw, toVideo ? "video" : before.Technique, success);
        return next with
        {
            Grade = newOperator ? "consultant_attending" : before.Grade,
            Specialty = newOperator ? "anaesthesia" : before.Specialty,
            Introducer = toVideo || newOperator ? next.Introducer : "bougie",
            Changes = (toVideo, newOperator) switch
            {
                (true, true) => ["operator", "device"],
                (true, false) => ["device"],
                (false, true) => ["operator"],
                _ => before.Introducer == "bougie" ? ["position"] : ["introducer"],
            },
        };
    }

    public static Attempt Supraglottic(Randomizer draw, string outcome) => new("B", "sga_insertion", "supraglottic", outcome)
    {
        DurationSeconds = draw.Bell(12, 45),
        Co2After = outcome == "success" ? "sustained" : "not_sustained",
    };

    public static Attempt Facemask(Randomizer draw, string outcome) => new("C", "facemask", "facemask", outcome)
    {
        DurationSeconds = draw.Bell(60, 300),
        Co2After = outcome == "success" ? "sustained" : "not_sustained",
    };

    public static string Grade(Randomizer draw, Patient patient) => patient.HourBand == "08-18"
        ? draw.Weighted((42, "consultant_attending"), (38, "senior_trainee"), (17, "junior_trainee"), (3, "other"))
        : draw.Weighted((18, "consultant_attending"), (50, "senior_trainee"), (29, "junior_trainee"), (3, "other"));

    public static string Specialty(Randomizer draw, Patient patient) => patient.Location switch
    {
        "ed" => draw.Weighted((5, "em"), (4, "anaesthesia"), (1, "icm")),
        "icu" => draw.Weighted((6, "icm"), (4, "anaesthesia")),
        "theatre" or "recovery" => "anaesthesia",
        _ => draw.Weighted((5, "anaesthesia"), (4, "icm"), (1, "medicine")),
    };

    private static string View(Randomizer draw, string outcome) => outcome switch
    {
        "success" => draw.Weighted((62, "1"), (26, "2a"), (9, "2b"), (3, "3a")),
        "no_view" => draw.Weighted((40, "3a"), (40, "3b"), (20, "4")),
        "vomit_soiling" or "equipment" => "not_seen",
        _ => draw.Weighted((25, "2a"), (40, "2b"), (35, "3a")),
    };
}
