using Bogus;

namespace Outcomes.Synthetic;

/// <summary>The three rare courses that the demonstration needs exactly once each.</summary>
internal static class PlantedCourses
{
    private const string Junior = "junior_trainee", Senior = "consultant_attending";

    public static Course DelayedOesophageal(Randomizer draw)
    {
        var first = AttemptDraws.Laryngoscopy(draw, "direct", success: false) with
        {
            Outcome = "oesophageal",
            View = "3a",
            BladeInsertions = 1,
            TubePasses = 1,
            Co2After = "not_sustained",
            Grade = Junior,
            Specialty = "medicine",
            DurationSeconds = 75,
        };
        var second = AttemptDraws.Laryngoscopy(draw, "video", success: true) with
        {
            Grade = Senior,
            Specialty = "anaesthesia",
            Changes = ["operator", "device"],
        };
        return Courses.End(draw, [first, second], "succeeded", "not_used", "not_used", "A", "tube") with
        {
            Oesophageal = "delayed",
            RecognitionSeconds = 180,
            Co2Confirmation = "waveform",
            SustainedCo2 = true,
        };
    }

    public static Course ReturnedToPlanA(Randomizer draw)
    {
        var first = AttemptDraws.Laryngoscopy(draw, "direct", success: false) with
        {
            Outcome = "no_view",
            View = "3b",
            TubePasses = 0,
            Grade = Junior,
            Specialty = "em",
        };
        var rescue = AttemptDraws.Supraglottic(draw, "success") with { Grade = Junior, Specialty = "em", Changes = ["device"] };
        var last = AttemptDraws.Laryngoscopy(draw, "video", success: true) with
        {
            Introducer = "bougie",
            Grade = Senior,
            Specialty = "anaesthesia",
            Changes = ["operator", "device", "introducer"],
        };
        return Courses.End(draw, [first, rescue, last], "succeeded", "succeeded", "not_used", "A", "tube") with
        {
            Co2Confirmation = "waveform",
            SustainedCo2 = true,
        };
    }

    public static Course FrontOfNeck(Randomizer draw)
    {
        var first = AttemptDraws.Laryngoscopy(draw, "video", success: false) with
        {
            Outcome = "cannot_pass_tube",
            View = "2b",
            TubePasses = 1,
            Grade = Senior,
            Specialty = "em",
        };
        var second = AttemptDraws.Laryngoscopy(draw, "video", success: false) with
        {
            Outcome = "no_view",
            View = "4",
            TubePasses = 0,
            BladeShape = "hyperangulated",
            Grade = Senior,
            Specialty = "anaesthesia",
            Changes = ["operator", "blade"],
        };
        var supraglottic =
            AttemptDraws.Supraglottic(draw, "other") with { Grade = Senior, Specialty = "anaesthesia", Changes = ["device"] };
        var mask = AttemptDraws.Facemask(draw, "other") with { Grade = Senior, Specialty = "anaesthesia", Changes = ["device"] };
        var neck = new Attempt("D", "fona", "fona_set", "success")
        {
            Grade = Senior,
            Specialty = "em",
            Changes = ["operator", "device"],
            DurationSeconds = 48,
            Co2After = "sustained",
        };
        return Courses.End(draw, [first, second, supraglottic, mask, neck], "failed", "failed", "failed", "D", "fona_scalpel") with
        {
            PlanD = "succeeded",
            Co2Confirmation = "waveform",
            SustainedCo2 = true,
        };
    }
}
