using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>changes.csv</c>.</summary>
internal sealed record ChangesRow(ChangeEvaluation Change, string Figure, string Period, IntervalCells Cells)
{
    public Count? Count { get; init; }

    public string? Doubts { get; init; }
}

/// <summary>The table of declared changes: before and after, and what the regression makes of it.</summary>
internal static class ChangesTable
{
    public static readonly CsvTable<ChangesRow> Table = new CsvTable<ChangesRow>(
        "tables/changes.csv",
        "Each declared change before and after, its one planned evaluation, and for long series level and trend",
        "For each change and measure the counts before and after; from the planned month on, their proportions and difference; then, where "
        + "both sides have 24 months, 20 of them with ten cases, the odds ratios trend_before, level, trend and at_end, "
        + "and the dispersion. "
        + "No value: no answer.")
        .Measure(row => row.Change.Measure.Id)
        .Date("date", "Date of the change.", row => row.Change.Change.Date)
        .Word("expect", "Direction that was expected when the change was declared.",
            row => row.Change.Change.Expect switch { Direction.Up => "up", Direction.Down => "down", _ => "same" }, "up", "down", "same")
        .Word("state", "What the one planned evaluation says: waiting until its month; too_few; as_expected and against where the interval "
            + "leaves out no difference; unclear.", row => State(row.Change.State), "waiting", "too_few",
            "as_expected", "against", "unclear")
        .Number("judged_after", "Whole months after which it is evaluated, as declared.", row => row.Change.Change.Plan.Months)
        .Integer("judged_at_cases", "Cases with which it is evaluated sooner, as declared; empty without.",
            row => row.Change.Change.Plan.Cases)
        .Month("due", "The month that it is evaluated with, at the latest.", row => row.Change.Due)
        .Word("figure", "Which figure the row holds.", row => row.Figure,
            "before", "after", "difference", "trend_before", "level", "trend", "at_end", "dispersion")
        .Period(row => row.Period)
        .Interval("A proportion, a difference of proportions, an odds ratio, or the dispersion.", row => row.Cells)
        .Method(row => row.Cells.Value is null ? null : row.Cells.Method)
        .KnownCount(row => row.Count)
        .Doubts(row => row.Doubts)
        .With(schema => schema with { AskedBy = "changes" });

    public static void Write(Func<string, string> place, IEnumerable<ChangeEvaluation> changes) =>
        Table.Write(place, changes.SelectMany(Rows));

    internal static IEnumerable<ChangesRow> Rows(ChangeEvaluation each)
    {
        if (each.Before is { } before)
            yield return Side("before", before, each.BeforeCount, each.BeforeEstimate);
        if (each.After is { } after)
            yield return Side("after", after, each.AfterCount, each.AfterEstimate);
        if (each is not { Before: var (from, _), After: var (_, to) })
            yield break;
        var whole = $"{from}/{to}";
        if (each.Difference is { } difference)
            yield return new(each, "difference", whole,
                IntervalCells.Of(difference.Value, new(difference.Lower, difference.Upper), VaryingDifference.Method));
        if (each.Segments is not { } segments)
            yield break;
        var doubts = string.Join(' ', segments.Doubts.Select(ChartCautions.Name));
        yield return Odds("trend_before", segments.TrendBefore);
        yield return Odds("level", segments.Level);
        yield return Odds("trend", segments.Trend);
        yield return Odds("at_end", segments.AtEnd);
        yield return new(each, "dispersion", whole, IntervalCells.Of(segments.Dispersion, null, "pearson")) { Doubts = doubts };

        // Two months a side can leave an interval that no number holds: such an answer is none.
        ChangesRow Odds(string figure, FittedOdds? odds)
        {
            var known = odds is { } given && double.IsFinite(given.Value) && double.IsFinite(given.Upper) ? odds : null;
            return new(each, figure, whole,
                IntervalCells.Of(known?.Value, known is null ? null : new(known.Lower, known.Upper), "segmented_logistic"))
            { Doubts = doubts };
        }

        ChangesRow Side(string figure, (Month From, Month To) span, Count count, Estimate? estimate) =>
            new(each, figure, $"{span.From}/{span.To}", IntervalCells.Of(
                estimate?.Value, estimate is null ? null : new(estimate.Lower, estimate.Upper), Wilson.Method))
            { Count = count };
    }

    private static string State(EvaluationState state) => state switch
    {
        EvaluationState.Waiting => "waiting",
        EvaluationState.TooFew => "too_few",
        EvaluationState.AsExpected => "as_expected",
        EvaluationState.Against => "against",
        _ => "unclear",
    };
}
