using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>
/// What a comparison of levels says, and what it cannot tell. Levels differ in their patients: no word here names a reason.
/// </summary>
public static class StrataWording
{
    /// <summary>Beside every comparison of levels.</summary>
    public const string CannotTell =
        "Groups differ in their patients, places and recording. These figures do not show why results differ, "
        + "and say nothing about any one record.";

    /// <summary>In place of a section's tables, where its records are too few for any.</summary>
    public static readonly string TooFew =
        $"Each measure of this section has fewer than {Wording.Number(StratumFigures.LeastRecords)} records: too few for any figure.";

    /// <summary>The measures of a section that its tables leave out; null where they leave out none.</summary>
    public static string? LeftOut(SectionFigures section) =>
        section.WithTooFew.Select(measure => measure.Measure.Title).ToArray() is { Length: > 0 } titles
            ? $"Left out, with fewer than {Wording.Number(StratumFigures.LeastRecords)} records: {string.Join("; ", titles)}."
            : null;

    /// <summary>How many intervals of so many would leave out the truth by chance.</summary>
    public static string Looks(int intervals) =>
        $"If no group differed, about {(intervals * 0.05).ToString("0.0#", CultureInfo.InvariantCulture)} of "
            + $"{Wording.Some(intervals, "interval")} would still show a difference by chance.";

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
        : $"{Wording.Fraction(count)}, {Wording.Estimate(estimate, per)}";

    /// <summary>What a difference between two levels says.</summary>
    public static string Said(LevelDifference difference, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(difference);
        ArgumentNullException.ThrowIfNull(titles);
        var (lower, upper) = (difference.Difference.Lower, difference.Difference.Upper);
        var first = titles.Level(difference.Field, difference.First);
        return lower > 0 ? $"{first}: more often. Chance is an unlikely explanation."
            : upper < 0 ? $"{first}: less often. Chance is an unlikely explanation."
            : "No clear difference.";
    }

    /// <summary>What the odds ratios within levels are, said once beside them.</summary>
    public const string WithinExplained =
        "The odds ratio within levels compares like with like and pools the levels (Mantel-Haenszel, 95\u00a0% interval); 1 means no "
        + "difference. p tests whether the levels share one ratio (Breslow-Day with Tarone's correction). It finds large disagreement "
        + "only; where p is small, one ratio does not describe them.";

    /// <summary>The pooled odds ratio within levels of other fields, with whether it may be one.</summary>
    public static string Within(LevelDifference difference, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(difference);
        ArgumentNullException.ThrowIfNull(titles);
        return string.Join("; ", difference.Within.Select(within =>
            $"{Readable.WithinSentence(titles.Column(within.Field))} ({Wording.Some(within.Levels, "level")}): "
                + $"{Wording.Ratio(within.OddsRatio.Value, within.OddsRatio.Lower, within.OddsRatio.Upper)}, "
                + $"{(within.Homogeneity is { } test ? Wording.P(test.PValue) : "too few for a test")}"));
    }

    /// <summary>The trend over levels that have an order.</summary>
    public static string Said(LevelTrend trend, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(trend);
        ArgumentNullException.ThrowIfNull(titles);
        var levels = string.Join(", ", trend.Levels.Select(level => LevelWording.Of(titles, trend.Field, level)));
        return $"{trend.Measure.Title}, over {Readable.WithinSentence(titles.Column(trend.Field))} ({levels}, "
            + $"read as {string.Join(", ", Enumerable.Range(1, trend.Levels.Length))}; {Wording.Some(trend.All.Eligible, "record")}): "
            + "a straight line through the shares "
            + $"{(trend.Trend.Slope < 0 ? "falls" : "rises")} "
            + $"by {Math.Abs(trend.Trend.Slope * 100).ToString("0.0", CultureInfo.InvariantCulture)}{Wording.Space}percentage points a "
            + $"level (Cochran-Armitage, {Wording.P(trend.Trend.PValue)}, two-sided). "
            + (trend.Trend.PValue < 0.05
                ? "Chance is an unlikely explanation. "
                : "No clear trend; that is not evidence of none. ")
            + "It does not say which came first.";
    }
}
