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

    /// <summary>The difference with its interval; the interval's level where it is not 95 %.</summary>
    public static string Difference(EvaluatedDifference difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        var level = difference.Level == 0.95 ? ""
            : $", {(100 * difference.Level).ToString("0.#", CultureInfo.InvariantCulture)}{Wording.Space}% interval";
        return $"{Points(difference.Value)}{Wording.Space}percentage points ({Range(difference)}{level})";
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
        if (evaluation.State == EvaluationState.Waiting)
            return $"The change of {Wording.Date(evaluation.Change.Date)} will be evaluated once, {When(evaluation)}; {SoFar(evaluation)}.";
        if (evaluation.Difference is not { } difference)
            return $"Too few cases to judge {Change(evaluation)}: {Cases(evaluation.BeforeCount)} before, "
                + $"{Cases(evaluation.AfterCount)} after.";
        if (evaluation.Effect != EvaluationEffect.None)
            return $"{Moved(evaluation)}. Other causes are possible.";
        return evaluation.Change.Expect == Direction.None && evaluation.Measure.Direction != Direction.None
            ? $"{evaluation.Measure.Title} did not get clearly worse after {Change(evaluation)}: {Difference(difference)}. "
                + $"Up to {Worst(evaluation, difference)} points worse is not excluded."
            : $"{Sides(evaluation)}. Anything from {Range(difference)} points fits: neither help nor harm is shown.";
    }

    /// <summary>Why there is no difference yet: <c>with December 2026</c>, or too few cases.</summary>
    public static string Why(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        return evaluation.State == EvaluationState.Waiting ? $"to be evaluated {When(evaluation)}" : "too few cases to judge";
    }

    /// <summary>That its evaluation was moved after it was declared; empty where it was not.</summary>
    public static string MovedDate(DeclaredChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return change.EarlierPlan is not var (report, plan) ? ""
            : $"The evaluation of the change of {Wording.Date(change.Date)} was moved after the report of {Wording.Name(report)}: "
                + $"from {Planned(plan)} to {Planned(change.Plan)}.";
    }

    private static string Planned(EvaluationPlan plan) => Wording.Some(plan.Months, "month")
        + (plan.Cases is { } cases ? $" or {Wording.Some(cases, "case")}" : "");

    /// <summary>That it moved, without the caution, and without the full stop.</summary>
    public static string Moved(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        var verb = evaluation.Effect switch
        {
            EvaluationEffect.Better => "improved",
            EvaluationEffect.Worse => "got worse",
            _ => "changed",
        };
        return $"{evaluation.Measure.Title} {verb} after {Change(evaluation)}: {Rate(evaluation, evaluation.AfterCount)}, "
            + $"before {Rate(evaluation, evaluation.BeforeCount)}; {Difference(evaluation.Difference!)}";
    }

    /// <summary>The two sides, without the full stop.</summary>
    public static string Sides(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        return $"{evaluation.Measure.Title} was {Rate(evaluation, evaluation.AfterCount)} after {Change(evaluation)}, "
            + $"{Rate(evaluation, evaluation.BeforeCount)} before";
    }

    private static string Change(ChangeEvaluation evaluation) => $"the change of {Wording.Date(evaluation.Change.Date)}";

    private static string Worst(ChangeEvaluation evaluation, EvaluatedDifference difference) =>
        Points(evaluation.Measure.Direction == Direction.Up ? -difference.Lower : difference.Upper).TrimStart('+');

    private static string Range(EvaluatedDifference difference) =>
        $"{Points(difference.Lower)}{Wording.Space}to{Wording.Space}{Points(difference.Upper)}";

    private static string When(ChangeEvaluation evaluation) => $"with {Wording.Name(evaluation.Due)}"
        + (evaluation.Change.Plan.Cases is { } cases ? $", or as soon as there are {Wording.Some(cases, "case")}" : "");

    private static string SoFar(ChangeEvaluation evaluation) => evaluation.After is null ? "no whole month has passed yet"
        : $"{Wording.Fraction(evaluation.AfterCount)} so far, {Wording.Fraction(evaluation.BeforeCount)} before";

    private static string Cases(Count count) => Wording.Some(count.Eligible, "case");

    private static string Rate(ChangeEvaluation evaluation, Count count) =>
        $"{Wording.Fraction(count)} ({Wording.Rate(count.Met / (double)count.Eligible, evaluation.Measure.Per)})";

    /// <summary>What the second table holds.</summary>
    public const string SegmentsExplained =
        "The same months, with a straight trend of the odds on each side of the change (segmented logistic regression): "
        + "odds ratios with 95\u00a0% intervals, 1 meaning no difference. "
        + "The level compares the first month after with what the earlier trend predicted for it; "
        + "the last column but one does so for the last month. Where months vary more than chance, the intervals are widened for it.";

    /// <summary>What no comparison of this kind can rule out.</summary>
    public const string CannotRuleOut =
        "A before/after comparison cannot rule out other causes: something else that changed at the same time, other patients, other "
        + "recording, or a bad run that would have ended anyway (regression to the mean). Check the measures the change should not have "
        + "moved too.";

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
