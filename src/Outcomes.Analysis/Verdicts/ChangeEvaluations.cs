using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Did the declared changes move what they should move? Counts before and after, and their difference.</summary>
public static class ChangeEvaluations
{
    private const int MonthsBefore = 12;

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
        var from = Latest([department.Book.First, change.LastBefore.AddMonths(1 - MonthsBefore),
            .. phases.Where(other => other.Date < change.Date).Select(other => other.FirstWhole)]);
        var to = Earliest([LastWhole(department), .. phases.Where(other => other.Date > change.Date).Select(other => other.LastBefore)]);
        var before = from <= change.LastBefore ? (from, change.LastBefore) : ((Month From, Month To)?)null;
        var after = change.FirstWhole <= to ? (change.FirstWhole, to) : ((Month From, Month To)?)null;
        var (counted, since) = (Sum(before), Sum(after));
        return new(change, report.Measure, before, after, counted, since, Difference.Newcombe(since, counted),
            Segments(department, change, report.Series, before, after));

        Count Sum((Month From, Month To)? span) => span is var (first, last) ? department.Book.Sum(report.Series, first, last) : default;
    }

    // The month that holds both ways of working keeps its place in time and takes no part.
    private static SegmentedChange? Segments(
        DepartmentCounts department, DeclaredChange change, Series? series, (Month From, Month To)? before, (Month From, Month To)? after)
    {
        if (series is null || before is not var (from, _) || after is not var (_, to))
            return null;
        Count[] counts = [.. from.To(to)
            .Select(month => month > change.LastBefore && month < change.FirstWhole ? default : department.Book.Sum(series, month, month))];
        return SegmentedRegression.Fit(new Series(from.Year, from.Number, [.. counts]), change.FirstWhole.MonthsSince(from));
    }

    private static Month LastWhole(DepartmentCounts department) =>
        department.Month.LastDay > department.AsOf ? department.Month.AddMonths(-1) : department.Month;

    private static Month Latest(IEnumerable<Month> months) => months.Max();

    private static Month Earliest(IEnumerable<Month> months) => months.Min();
}
