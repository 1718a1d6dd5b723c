using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Disclosure;

/// <summary>The counts of a department as others may see them.</summary>
public static class SharedCounts
{
    /// <summary>Protects the proportions of a department.</summary>
    /// <param name="department">Unprotected counts: they end here.</param>
    /// <param name="rule">How small numbers are protected.</param>
    /// <param name="earlier">The counts that earlier reports showed.</param>
    public static SharedModel Release(DepartmentCounts department, DisclosureRule rule, ImmutableArray<ImmutableArray<EarlierCell>> earlier)
    {
        ArgumentNullException.ThrowIfNull(department);
        var (plan, book) = (department.Plan, department.Book);
        ImmutableArray<Measure> measures = [.. plan.Definitions.Measures.Where(measure => measure.Kind == MeasureKind.Proportion)];
        var series = InOrderOfWorth(plan, measures).Where(measure => book.Whole(measure.Id) is not null)
            .Select(measure => Series(plan, book, measure));
        return new(
            plan.Name, plan.Month, plan.AsOf, plan.Invented, "", plan.Definitions.Hash, Assumption.All(plan), measures,
            Protect.Of([.. series], book.First, rule, earlier))
        {
            Titles = plan.Titles,
        };
    }

    // Headline measures first, as the pipeline lists them: a measure gives way to those before it.
    private static IEnumerable<Measure> InOrderOfWorth(AnalysisPlan plan, ImmutableArray<Measure> measures) =>
        measures.OrderBy(measure => plan.Headline.IndexOf(measure.Id) is var at && at < 0 ? int.MaxValue : at);

    private static MeasureSeries Series(AnalysisPlan plan, SeriesBook book, Measure measure) => new(
        measure.Id, plan.IsHeadline(measure), book.Whole(measure.Id)!.Counts,
        [
            .. book.Cells(measure.Id).Where(cell => cell.Stratum != CountRow.All && StratumFigures.Allowed(measure, cell.Stratum))
                .Select(cell => new LevelSeries(cell.Stratum, cell.Level, book.Of(measure.Id, cell.Stratum, cell.Level)!.Counts)),
        ]);
}
