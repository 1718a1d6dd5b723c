using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>
/// What a comparison of levels says, and what it cannot tell. Levels differ in their patients: no word here names a reason.
/// </summary>
public static class StrataWording
{
    /// <summary>Beside every comparison of levels.</summary>
    public const string CannotTell =
        "None of these figures can tell why levels differ. Other patients, other places and other ways of recording come with them, "
        + "and only the one field named is allowed for where an odds ratio within levels is given. "
        + "They do not say what would have happened otherwise, and nothing about any one record.";

    /// <summary>How many intervals of so many would leave out the truth by chance.</summary>
    public static string Looks(int intervals) =>
        $"{Wording.Some(intervals, "interval")} of 95{Wording.Space}% {(intervals == 1 ? "stands" : "stand")} here: had nothing differed, "
            + $"about {(intervals * 0.05).ToString("0.0#", CultureInfo.InvariantCulture)} of them would say that something does.";

    /// <summary>A count with its estimate: <c>12/40, 30.0 % (18.1 to 45.4 %)</c>.</summary>
    public static string Cell(LevelFigures level, int per)
    {
        ArgumentNullException.ThrowIfNull(level);
        return Cell(level.Count, level.Estimate, per);
    }

    /// <inheritdoc cref="Cell(LevelFigures, int)"/>
    public static string Cell(Count count, Estimate? estimate, int per) =>
        count.Eligible == 0 ? "none eligible"
        : estimate is null ? $"{Wording.Fraction(count)}, too few for an interval"
        : $"{Wording.Fraction(count)}, {Wording.Rate(estimate.Value, per)} ({Wording.Range(estimate.Lower, estimate.Upper, per)})";

    /// <summary>What a difference between two levels says.</summary>
    public static string Said(LevelDifference difference, string first)
    {
        ArgumentNullException.ThrowIfNull(difference);
        var (lower, upper) = (difference.Difference.Lower, difference.Difference.Upper);
        return lower > 0 ? $"More often {first}, by more than chance easily explains."
            : upper < 0 ? $"Less often {first}, by more than chance easily explains."
            : "Cannot tell: no difference fits these numbers too.";
    }

    /// <summary>What the odds ratios within levels are, said once beside them.</summary>
    public const string WithinExplained =
        "An odds ratio within levels compares records of one level with each other and pools the answers (Mantel-Haenszel, "
        + "95\u00a0% interval); 1 means no difference. p is that of a test whether all levels may share "
        + "one ratio (Breslow-Day with Tarone's correction); it finds large disagreement only, and where it is small, "
        + "one ratio does not describe them.";

    /// <summary>The pooled odds ratio within levels of other fields, with whether it may be one.</summary>
    public static string Within(LevelDifference difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return string.Join("; ", difference.Within.Select(within =>
            $"{Lower(within.Title)} ("
                + $"{Wording.Some(within.Levels, "level")}): {Wording.Ratio(within.OddsRatio.Value, within.OddsRatio.Lower, within.OddsRatio.Upper)}, {(within.Homogeneity is { } test ? Wording.P(test.PValue) : "too few for a test")}"));
    }

    /// <summary>The trend over levels that have an order.</summary>
    public static string Said(LevelTrend trend)
    {
        ArgumentNullException.ThrowIfNull(trend);
        var levels = string.Join(", ", trend.Levels.Select(Wording.Level));
        return $"{trend.Measure.Title}, over {Lower(trend.Title)} ({levels}, "
            + $"read as {string.Join(", ", Enumerable.Range(1, trend.Levels.Length))}; {Wording.Some(trend.All.Eligible, "record")}): "
            + "a straight line through the shares "
            + $"{(trend.Trend.Slope < 0 ? "falls" : "rises")} "
            + $"by {Math.Abs(trend.Trend.Slope * 100).ToString("0.0", CultureInfo.InvariantCulture)}{Wording.Space}percentage points a "
            + $"level (Cochran-Armitage, {Wording.P(trend.Trend.PValue)}, two-sided). "
            + (trend.Trend.PValue < 0.05
                ? "More than chance easily explains. "
                : "Chance alone explains it easily; that is not evidence of no trend. ")
            + "It does not say which came first: a difficult airway takes more attempts, a low saturation ends an attempt, "
            + "and both take time.";
    }

    private static string Lower(string title) =>
        title.Length > 1 && char.IsUpper(title[0]) && char.IsLower(title[1]) ? char.ToLowerInvariant(title[0]) + title[1..] : title;
}
