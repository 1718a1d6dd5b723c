using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Sets two cohorts beside each other by the methods of the report's sections.</summary>
internal static class CompareCohorts
{
    public static CohortComparison Compare(CohortFigures first, CohortFigures second, long shared)
    {
        var (one, other) = (first.Figures.Year, second.Figures.Year);
        if (shared > 0 || one.Eligible < StratumFigures.LeastRecords || other.Eligible < StratumFigures.LeastRecords)
            return new() { Shared = shared };
        return new()
        {
            Difference = Differ(first, second),
            OddsRatio = OddsRatio.Score(one, other),
            Within = first.ShowsLevels && second.ShowsLevels
                ? [.. first.Counts.Plan.Strata.Select(field => Pool(first, second, field)).OfType<WithinLevels>()] : [],
        };
    }

    // Where months vary more than chance on either side, the interval allows for it.
    private static DifferenceEstimate? Differ(CohortFigures first, CohortFigures second) =>
        (VaryingMonths.IsWider(first.Figures.YearEstimate) || VaryingMonths.IsWider(second.Figures.YearEstimate))
        && VaryingDifference.Estimate(Events(second), Events(first)) is { } varying
            ? new(varying.Value, varying.Lower, varying.Upper, varying.Level, VaryingDifference.Method, VaryingDifference.Source,
                first.Figures.Year, second.Figures.Year)
            : Difference.Newcombe(first.Figures.Year, second.Figures.Year);

    private static EventCount[] Events(CohortFigures cohort) =>
        [.. cohort.Cohort.From.To(cohort.Cohort.To).Select(month => EventCount.From(
            cohort.Counts.Book.Sum(cohort.Figures.Series, month, month), metIsUnwelcome: true))];

    private static WithinLevels? Pool(CohortFigures first, CohortFigures second, string field)
    {
        var titles = first.Counts.Plan.Titles;
        var levels = Levels(first, field).Union(Levels(second, field));
        (Count, Count)[] pairs = [.. AnalyseSection.Ordered(titles, field, levels)
            .Select(level => (Sum(first, field, level), Sum(second, field, level)))];
        var both = pairs.Count(pair => pair.Item1.Eligible > 0 && pair.Item2.Eligible > 0);
        return both < 2 || MantelHaenszel.OddsRatio(pairs) is not { Value: > 0 and < double.PositiveInfinity } pooled
            ? null
            : new(field, both, pooled, BreslowDay.Test(pairs));
    }

    private static IEnumerable<string> Levels(CohortFigures cohort, string field) =>
        cohort.Counts.Book.Cells(cohort.Figures.Measure.Id).Where(cell => cell.Stratum == field).Select(cell => cell.Level);

    private static Count Sum(CohortFigures cohort, string field, string level) => cohort.Counts.Book.Sum(
        cohort.Counts.Book.Of(cohort.Figures.Measure.Id, field, level), cohort.Cohort.From, cohort.Cohort.To);
}
