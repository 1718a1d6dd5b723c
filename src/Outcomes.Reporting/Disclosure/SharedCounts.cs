using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>The counts of a department as others may see them.</summary>
public static class SharedCounts
{
    /// <summary>Protects the proportions of a department.</summary>
    /// <param name="department">Unprotected counts: they end here.</param>
    /// <param name="rule">How small numbers are protected.</param>
    /// <param name="earlier">Earlier releases; of two that showed one period the first counts.</param>
    public static (SharedModel Model, ImmutableArray<EarlierCell> Noted) Release(
        DepartmentCounts department, DisclosureRule rule, ImmutableArray<EarlierRelease> earlier)
    {
        ArgumentNullException.ThrowIfNull(department);
        var (plan, book) = (department.Plan, department.Book);
        ImmutableArray<Measure> measures = Asked(plan);
        var over = Math.Max(0, LastOver(plan).MonthsSince(book.First) + 1);
        var series = InOrderOfWorth(plan, measures).Select(measure => Series(plan, book, measure, over));
        var (shown, noted) = Protect.Of(
            [.. series], book.First, Timetable.Of(plan.Baseline?.From, !plan.Strata.IsEmpty), rule, earlier);
        return (new(plan.Name, plan.Month, plan.AsOf, plan.Invented, "", plan.Definitions.Hash, Assumption.All(plan), measures, shown)
        {
            NotCollected = department.Counts.Uncollected,
            Titles = plan.Titles,
        }, noted);
    }

    /// <summary>The measures that a set for others may show, in the order of the catalogue.</summary>
    public static ImmutableArray<Measure> Asked(AnalysisPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return [.. plan.Definitions.Measures.Where(measure => measure.Kind == MeasureKind.Proportion)];
    }

    /// <summary>Tells one definition of a measure from another.</summary>
    public static string Definition(Measure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return Convert.ToHexStringLower(SHA256.HashData(
            Encoding.UTF8.GetBytes($"{measure.Eligible}\n{measure.Met}\n{measure.Settled}\n{measure.Missing}")))[..16];
    }

    // A month that is not over would stand for good as it was in its middle.
    private static Month LastOver(AnalysisPlan plan) =>
        Month.Of(plan.AsOf.AddDays(1)).AddMonths(-1) is var over && over < plan.Month ? over : plan.Month;

    // Headline measures first, as the pipeline lists them: a measure gives way to those before it.
    private static IEnumerable<Measure> InOrderOfWorth(AnalysisPlan plan, ImmutableArray<Measure> measures) =>
        measures.OrderBy(measure => plan.Headline.IndexOf(measure.Id) is var at && at < 0 ? int.MaxValue : at);

    private static MeasureSeries Series(AnalysisPlan plan, SeriesBook book, Measure measure, int months) => new(
        measure.Id, plan.IsHeadline(measure),
        book.Whole(measure.Id)?.Counts[..months] ?? [.. new Count[months]],
        [
            .. book.Cells(measure.Id).Where(cell => cell.Stratum != CountRow.All && StratumFigures.Allowed(measure, cell.Stratum))
                .Select(cell => new LevelSeries(cell.Stratum, cell.Level, book.Of(measure.Id, cell.Stratum, cell.Level)!.Counts[..months])),
        ])
    {
        Definition = Definition(measure),
    };
}
