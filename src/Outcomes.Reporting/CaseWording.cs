using Outcomes.Measures.Review;
using Outcomes.Reporting.Model;

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

    /// <summary>Which standards a case's page tells.</summary>
    public const string StandardsRule = "Told are the standards that the flags name and the headline measures, at most six of each answer; of the others, those met are counted and those not met named.";

    /// <summary>How many standards were met beside those told, or nothing where there are none.</summary>
    public static IEnumerable<string> MoreMet(CaseStandards standards)
    {
        ArgumentNullException.ThrowIfNull(standards);
        if (standards.MoreMet > 0)
            yield return standards.WentWell.IsEmpty ? $"{Wording.Some(standards.MoreMet, "other standard")} met" : $"and {Wording.Some(standards.MoreMet, "more standard")} met";
    }
}
