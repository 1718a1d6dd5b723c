using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>Cases and actions in words.</summary>
public static class CaseWording
{
    public static string Name(CaseKind kind) => kind switch
    {
        CaseKind.One => "Tier 1",
        CaseKind.Two => "Tier 2",
        CaseKind.Three => "Tier 3",
        CaseKind.Learning => "Difficult and clean",
        CaseKind.Drawn => "Drawn at random",
        _ => "Doubtful data",
    };

    /// <summary>What the meeting does with a kind.</summary>
    public static string Handling(CaseKind kind) => kind switch
    {
        CaseKind.One => "each reviewed by itself within five working days; check whether the patient or family must be told",
        CaseKind.Two => "all listed, a sample discussed",
        CaseKind.Three => "counted as a trend; no page of its own",
        CaseKind.Learning => "what made it go well",
        CaseKind.Drawn => "5 % of records without a flag, at least one: what do the flags miss?",
        _ => "for whoever keeps the data",
    };

    // The pack is confidential, but its pages travel: a small number beside a case narrows down who else it was.
    private const long FewerThan = 5;

    /// <summary>
    /// How many earlier cases were like one. Below five the number is not given, none included; the longer period gives no number from
    /// which the shorter one could be subtracted to leave fewer than five.
    /// </summary>
    public static string Earlier(EarlierCases earlier)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        var since = $"since {Wording.Name(earlier.Since)}";
        const string year = "in the 12 months before";
        var counts = (earlier.Longer, earlier.Year, earlier.Whole) switch
        {
            (false, _, var whole) => $"{AtLeastFive(whole)} {since}",
            (_, _, < FewerThan) => $"{Few} {since}",
            (_, < FewerThan, var whole) => $"{Few} {year}, {Wording.Number(whole)} {since}",
            (_, var recent, var whole) when whole - recent < FewerThan =>
                $"{Wording.Number(recent)} {year}, and {Few} before those, {since}",
            (_, var recent, var whole) => $"{Wording.Number(recent)} {year}, {Wording.Number(whole)} {since}",
        };
        return $"Earlier cases with the same highest flag ({earlier.Title}): {counts}.";
    }

    private static string AtLeastFive(long cases) => cases < FewerThan ? Few : Wording.Number(cases);

    private static string Few => $"fewer than {Wording.Number(FewerThan)}";

    /// <summary>That a record of an earlier month is new to review.</summary>
    public static string Late(Month month) => $"A record of {Wording.Name(month)}, entered or changed after that month was reported.";

    /// <summary>Which standards a case's page tells.</summary>
    public const string StandardsRule = "Told are the standards that the flags name and the headline measures, at most six of each answer; "
        + "of the others, those met are counted and those not met named. What is not recorded is not judged.";

    /// <summary>How many standards were met beside those told, or nothing where there are none.</summary>
    public static IEnumerable<string> MoreMet(CaseStandards standards)
    {
        ArgumentNullException.ThrowIfNull(standards);
        if (standards.MoreMet > 0)
            yield return standards.WentWell.IsEmpty
                ? $"{Wording.Some(standards.MoreMet, "other standard")} met"
                : $"and {Wording.Some(standards.MoreMet, "more standard")} met";
    }

    /// <summary>A measure with its answer: the title says what met means, so an unwelcome event that did not happen was avoided.</summary>
    public static string Title(CaseMeasure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return (measure.Measure.Direction, measure.Answer) switch
        {
            (_, Answer.Missing) => $"Not recorded: {measure.Measure.Title}",
            (Direction.Down, Answer.NotMet) => $"Avoided: {measure.Measure.Title}",
            (Direction.Down, _) => $"Happened: {measure.Measure.Title}",
            (_, Answer.NotMet) => $"Not met: {measure.Measure.Title}",
            _ => measure.Measure.Title,
        };
    }
}
