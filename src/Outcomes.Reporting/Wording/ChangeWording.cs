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
    public static string Difference(EvaluatedDifference difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return $"{Points(difference.Value)}{Wording.Space}percentage points ({Range(difference)})";
    }

    /// <summary>The difference of two levels with its interval.</summary>
    public static string Difference(DifferenceEstimate difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return $"{Points(difference.Value)}{Wording.Space}percentage points "
            + $"({Points(difference.Lower)}{Wording.Space}to{Wording.Space}{Points(difference.Upper)})";
    }

    /// <summary>The sentence of one evaluation: the only one that compares before and after.</summary>
    public static string Say(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        var (measure, change) = (evaluation.Measure, $"the change of {Wording.Date(evaluation.Change.Date)}");
        if (evaluation.State == EvaluationState.Waiting)
            return $"{measure.Title} will be evaluated once, {When(evaluation)}. {SoFar(evaluation)} No verdict yet.";
        if (evaluation.State == EvaluationState.TooFew || evaluation.Difference is not { } difference)
            return $"Too few cases to judge {change}: {Cases(evaluation.BeforeCount)} before, {Cases(evaluation.AfterCount)} after.";
        var sides = $"{Rate(evaluation, evaluation.AfterCount)} after {change}, {Rate(evaluation, evaluation.BeforeCount)} before";
        return evaluation.State switch
        {
            EvaluationState.AsExpected => $"{measure.Title} was {sides}: {Difference(difference)}. "
                + "That is more than chance; it does not prove the cause.",
            EvaluationState.Against => $"{measure.Title} {Against(evaluation)}: {sides}, {Difference(difference)}. "
                + "Chance does not easily explain it.",
            _ => evaluation.Change.Expect == Direction.None
                ? $"{measure.Title} did not clearly get worse: {sides}, {Difference(difference)}."
                : $"{measure.Title} was {sides}. Anything from {Range(difference)} points fits: neither help nor harm is shown.",
        };
    }

    private static string Range(EvaluatedDifference difference) =>
        $"{Points(difference.Lower)}{Wording.Space}to{Wording.Space}{Points(difference.Upper)}";

    private static string When(ChangeEvaluation evaluation) => $"with {Wording.Name(evaluation.Due)}"
        + (evaluation.Change.Plan.Cases is { } cases ? $", or as soon as there are {Wording.Some(cases, "case")}" : "");

    private static string SoFar(ChangeEvaluation evaluation) =>
        $"{(evaluation.After is null ? "No whole month yet" : $"So far {Wording.Fraction(evaluation.AfterCount)}")}; "
            + $"{Wording.Fraction(evaluation.BeforeCount)} in the months before.";

    private static string Cases(Count count) => Wording.Some(count.Eligible, "case");

    private static string Rate(ChangeEvaluation evaluation, Count count) =>
        $"{Wording.Fraction(count)} ({Wording.Rate(count.Met / (double)count.Eligible, evaluation.Measure.Per)})";

    private static string Against(ChangeEvaluation evaluation)
    {
        var rose = evaluation.Difference!.Value > 0;
        return evaluation.Measure.Direction == Direction.None ? "moved against what was expected"
            : rose == (evaluation.Measure.Direction == Direction.Up) ? "got better, which was not expected"
            : "got worse";
    }

    /// <summary>What the second table holds.</summary>
    public const string SegmentsExplained =
        "The same months, with a straight trend of the odds on each side of the change (segmented logistic regression): "
        + "odds ratios with 95\u00a0% intervals, 1 meaning no difference. "
        + "The level compares the first month after with what the earlier trend foretold for it; "
        + "the last column but one does so for the last month. Where months vary more than chance, the intervals are widened for it.";

    /// <summary>What no comparison of this kind can rule out.</summary>
    public const string CannotRuleOut =
        "No such comparison can rule out that something else changed at the same time; that other patients were treated, "
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
