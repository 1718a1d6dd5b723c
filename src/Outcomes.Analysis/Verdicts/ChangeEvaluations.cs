using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Did the declared changes move what they should move? One planned comparison each, in its month and never before.</summary>
public static class ChangeEvaluations
{
    private const int MonthsBefore = 12;

    // A trend over fewer months than two years, or of fewer cases, is a guess. Judgement.
    private const int SegmentMonths = 24, FullMonths = 20, CasesOfFullMonth = 10;

    /// <summary>One evaluation a change and measure, by date; changes outside the series are left out.</summary>
    public static IEnumerable<ChangeEvaluation> Evaluate(DepartmentCounts department, IEnumerable<MeasureFigures> measures)
    {
        var reported = measures.Where(measure => measure.Series is not null)
            .ToDictionary(measure => measure.Measure.Id, StringComparer.Ordinal);
        foreach (var change in department.Plan.Changes)
            foreach (var id in change.Measures.Where(reported.ContainsKey))
                if (Month.Of(change.Date) is var month && month >= department.Book.First && month <= department.Book.Last)
                    yield return One(department, change, reported[id]);
    }

    private static ChangeEvaluation One(DepartmentCounts department, DeclaredChange change, MeasureFigures report)
    {
        // Months on the other side of another phase are another way of working.
        var phases = report.Changes.Where(other => other.NewPhase && other != change).ToArray();
        var first = Latest([department.Book.First, .. phases.Where(other => other.Date < change.Date).Select(other => other.FirstWhole)]);
        var from = Latest([first, change.LastBefore.AddMonths(1 - MonthsBefore)]);
        var end = Earliest([.. phases.Where(other => other.Date > change.Date).Select(other => other.LastBefore),
            Month.Of(DateOnly.MaxValue)]);
        var last = Earliest([LastWhole(department), end]);
        // Another phase ends what can be compared: with its last whole month, if that came before the planned one.
        var due = Earliest([end, Due(department, change, report.Series!, last)]);
        var isDue = due <= LastWhole(department);
        var before = Span(from, change.LastBefore);
        var after = Span(change.FirstWhole, isDue ? due : last);
        var result = isDue && before is not null && after is not null
            ? PlannedComparison.Compare(Events(department, report, before), Events(department, report, after), Level(change))
            : null;
        var difference = result?.Difference is { } found ? Met(found, report.Measure) : null;
        return new(change, report.Measure, State(change, report.Measure, isDue, difference), before, after, Sum(before), Sum(after), due,
            difference, Segments(department, change, report.Series, (first, last)));

        Count Sum((Month From, Month To)? span) => span is var (begin, to) ? department.Book.Sum(report.Series, begin, to) : default;
    }

    // The measures of a change share the 5 % of one look, so that a department which names ten does not find one by chance.
    private static double Level(DeclaredChange change) => 1 - (0.05 / Math.Max(1, change.Measures.Length));

    private static Month Due(DepartmentCounts department, DeclaredChange change, Series series, Month last)
    {
        var latest = change.FirstWhole.AddMonths(change.Plan.Months - 1);
        var cases = 0L;
        for (var month = change.FirstWhole; change.Plan.Cases is { } enough && month <= last && month < latest; month = month.AddMonths(1))
            if ((cases += department.Book.Sum(series, month, month).Eligible) >= enough)
                return month;
        return latest;
    }

    private static EvaluationState State(DeclaredChange change, Measure measure, bool isDue, EvaluatedDifference? difference)
    {
        if (!isDue)
            return EvaluationState.Waiting;
        if (difference is null)
            return EvaluationState.TooFew;
        if (!difference.LeavesOutNone)
            return EvaluationState.Unclear;
        var rose = difference.Value > 0;
        return change.Expect switch
        {
            Direction.Up => rose ? EvaluationState.AsExpected : EvaluationState.Against,
            Direction.Down => rose ? EvaluationState.Against : EvaluationState.AsExpected,
            // It should stay as it was: better is no harm, and a figure without a better side should not move at all.
            _ => measure.Direction != Direction.None && rose == (measure.Direction == Direction.Up)
                ? EvaluationState.Unclear : EvaluationState.Against,
        };
    }

    private static EventCount[] Events(DepartmentCounts department, MeasureFigures report, (Month From, Month To)? span) =>
        span is var (from, to)
            ? [.. from.To(to).Select(month => EventCount.From(
                department.Book.Sum(report.Series, month, month), report.Measure.Direction != Direction.Up))]
            : [];

    // The comparison is of unwelcome events; the report speaks of what was met.
    private static EvaluatedDifference Met(VaryingDifferenceEstimate found, Measure measure) => measure.Direction == Direction.Up
        ? new(-found.Value, -found.Upper, -found.Lower, found.Dispersion, found.Level)
        : new(found.Value, found.Lower, found.Upper, found.Dispersion, found.Level);

    // The month that holds both ways of working keeps its place in time and takes no part.
    private static SegmentedChange? Segments(
        DepartmentCounts department, DeclaredChange change, Series? series, (Month From, Month To) whole)
    {
        if (series is null || !AreMany(whole.From, change.LastBefore) || !AreMany(change.FirstWhole, whole.To))
            return null;
        ImmutableArray<Count> counts =
        [
            .. whole.From.To(whole.To).Select(month => month > change.LastBefore && month < change.FirstWhole
                ? default : department.Book.Sum(series, month, month)),
        ];
        return SegmentedRegression.Fit(
            new Series(whole.From.Year, whole.From.Number, counts), change.FirstWhole.MonthsSince(whole.From));

        bool AreMany(Month from, Month to) => to.MonthsSince(from) >= SegmentMonths - 1
            && from.To(to).Count(month => department.Book.Sum(series, month, month).Eligible >= CasesOfFullMonth) >= FullMonths;
    }

    private static (Month From, Month To)? Span(Month from, Month to) => from <= to ? (from, to) : null;

    private static Month LastWhole(DepartmentCounts department) => department.LastComplete;

    private static Month Latest(IEnumerable<Month> months) => months.Max();

    private static Month Earliest(IEnumerable<Month> months) => months.Min();
}
