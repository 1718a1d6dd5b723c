using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a comparison before and after a declared change says, and what it cannot rule out.</summary>
public static class ChangeWording
{
    /// <summary>Percentage points with a sign: <c>+11.2</c>, <c>−0.4</c>; none where nothing is left after rounding.</summary>
    public static string Points(double difference)
    {
        var points = Math.Abs(difference * 100).ToString("0.0", CultureInfo.InvariantCulture);
        return (points == "0.0" ? "" : difference < 0 ? "−" : "+") + points;
    }

    /// <summary>The difference with its interval.</summary>
    public static string Difference(DifferenceEstimate difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return $"{Points(difference.Value)}{Wording.Space}percentage points "
            + $"({Points(difference.Lower)}{Wording.Space}to{Wording.Space}{Points(difference.Upper)})";
    }

    /// <summary>One paragraph: what was seen, and what it does not show.</summary>
    public static string Said(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        if (evaluation.After is null)
            return "No whole month has passed since: it cannot be judged yet.";
        if (evaluation.Difference is not { } difference)
            return "One side has no eligible record: there is nothing to compare.";
        var up = evaluation.Change.Expect == Direction.Up;
        if (difference.Lower <= 0 && difference.Upper >= 0)
            return $"Cannot tell: anything from {Points(difference.Lower)} to {Points(difference.Upper)} percentage points fits these "
                + "numbers, no change included. That is not evidence that nothing changed.";
        var asExpected = difference.Value > 0 == up;
        return (asExpected
            ? "It moved the way that was expected, by more than chance easily explains. "
            : "It moved against what was expected, by more than chance easily explains. ") +
            "That does not show that this change did it: other patients, other staff, another way of recording, " +
            "or a trend that was already under way would look the same.";
    }

    /// <summary>What the second table holds.</summary>
    public const string SegmentsExplained =
        "The same months, with a straight trend of the odds on each side of the change (segmented logistic regression): "
        + "odds ratios with 95\u00a0% intervals, 1 meaning no difference. "
        + "The level compares the first month after with what the earlier trend foretold for it; "
        + "the last column but one does so for the last month. Where months vary more than chance, the intervals are widened for it.";

    /// <summary>What no comparison of this kind can rule out.</summary>
    public const string CannotRuleOut =
        "Neither table can rule out that something else changed at the same time; that other patients were treated, "
        + "or that other cases were recorded; that the change followed a bad run that would have ended anyway "
        + "(regression to the mean); or that it did harm elsewhere, in a measure that nobody named. "
        + "Read the measures that it should not have moved as well.";

    /// <summary>The last month as the regression has it, against what the earlier trend foretold.</summary>
    public static string AtEnd(SegmentedChange segments, int per)
    {
        ArgumentNullException.ThrowIfNull(segments);
        return segments is { AtEnd: { } odds, FittedAtEnd: { } fitted, ForetoldAtEnd: { } foretold }
            ? $"{Wording.Rate(fitted, per)}, foretold {Wording.Rate(foretold, per)}; "
                + $"odds ratio {Wording.Ratio(odds.Value, odds.Lower, odds.Upper)}"
            : "no answer";
    }

    /// <summary>How much months vary, what the level and the trend leave open, and every doubt.</summary>
    public static string Trusted(SegmentedChange segments)
    {
        ArgumentNullException.ThrowIfNull(segments);
        var said = new List<string>();
        if (segments.Dispersion is { } dispersion)
            said.Add(dispersion > 1
                ? $"Months vary more than chance alone (variance {dispersion.ToString("0.0", CultureInfo.InvariantCulture)} times as "
                    + $"large); the intervals allow for it."
                : $"Months vary no more than chance alone "
                    + $"(variance {dispersion.ToString("0.0", CultureInfo.InvariantCulture)} times as large).");
        if (segments is { Level: { } level, Trend: { } trend } && Open(level) && Open(trend))
            said.Add("Neither a step nor another trend can be told from none.");
        return string.Join(' ', said.Concat(segments.Doubts.Select(ChartCautions.Say)));
    }

    private static bool Open(FittedOdds odds) => odds.Lower <= 1 && odds.Upper >= 1;
}
