using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// Control charts about the declared baseline: headline proportions and the volume of records.
/// </summary>
public static class ControlChartSeries
{
    private const string VolumeTitle = "Procedures recorded a day";

    private delegate ControlChart Limits<T>(ImmutableArray<T> points, ChartBaseline baseline);

    public static ControlCharts Analyse(DepartmentCounts department, IReadOnlyCollection<MeasureFigures> measures)
    {
        var (book, plan) = (department.Book, department.Plan);
        // A month that goes on is no sample of a month: the monthly test leaves it out too.
        Month? leftOut = book.Last.LastDay > department.AsOf ? book.Last : null;
        var months = book.Months - (leftOut is null ? 0 : 1);
        if (plan.WholeBaseline)
            return new(NoLimits.WholePeriod, [], [], leftOut);
        if (plan.Baseline is not var (from, length))
            return new(NoLimits.NotDeclared, [], [], leftOut);
        if (length < ControlCharts.LeastMonths)
            return new(NoLimits.ShortBaseline, [], [], leftOut);
        var baseline = new ChartBaseline(Math.Max(0, from.MonthsSince(book.First)), length);
        if (baseline.From + length >= months)
            return new(NoLimits.NotOver, [], [], leftOut);

        var (charts, without) = (ImmutableArray.CreateBuilder<ControlChartFigures>(), ImmutableArray.CreateBuilder<(string, NoLimits)>());
        foreach (var report in measures.Where(
            report => report is { Headline: true, Series: not null, Measure.Kind: MeasureKind.Proportion }))
            Add(report.Measure.Title, Proportion(report, book, months, baseline));
        Add(VolumeTitle, Volume(department, months, baseline));
        return new(null, charts.ToImmutable(), without.ToImmutable(), leftOut);

        void Add(string title, (ControlChartFigures? Chart, NoLimits Why) made)
        {
            if (made.Chart is { } chart)
                charts.Add(chart);
            else
                without.Add((title, made.Why));
        }
    }

    private static (ControlChartFigures?, NoLimits) Proportion(MeasureFigures report, SeriesBook book, int months, ChartBaseline baseline)
    {
        ImmutableArray<Count> counts = report.Series!.Counts[..months];
        var (met, of) =
            (InBaseline(counts.Select(count => count.Met), baseline), InBaseline(counts.Select(count => count.Eligible), baseline));
        if (of < ControlCharts.LeastCases)
            return (null, NoLimits.TooFew);
        if (met == 0 || met == of)
            return (null, NoLimits.NoVariation);
        var phases = Declared(report, book, months, baseline.Points);
        var (exact, wider) =
            Charts(counts, phases, baseline, (points, within, method) => AttributeCharts.Proportions(points, within, method));
        return (new()
        {
            Id = report.Measure.Id,
            Title = report.Measure.Title,
            Charted = Charted.Proportion,
            Measure = report,
            Months = [.. counts.Select((count, i) => new ChartedMonth(book.First.AddMonths(i), count.Met, count.Eligible))],
            Phases = exact,
            Wider = wider,
        }, default);
    }

    // The exposure is time: a month's days are what its records could have come from.
    private static (ControlChartFigures?, NoLimits) Volume(DepartmentCounts department, int months, ChartBaseline baseline)
    {
        ImmutableArray<ChartedMonth> each = [.. Enumerable.Range(0, months).Select(i => department.Book.First.AddMonths(i))
            .Select(month => new ChartedMonth(month, department.Records.GetValueOrDefault(month), month.LastDay.Day))];
        if (InBaseline(each.Select(month => month.Numerator), baseline) < ControlCharts.LeastCases)
            return (null, NoLimits.TooFew);
        var (exact, wider) = Charts(each, [], baseline, (points, within, method) =>
            AttributeCharts.Rates([.. points.Select(month => month.Numerator)],
                [.. points.Select(month => (double)month.Denominator)], within, method));
        return (
            new()
            {
                Id = ControlChartFigures.VolumeId,
                Title = VolumeTitle,
                Charted = Charted.Volume,
                Months = each,
                Phases = exact,
                Wider = wider
            }, default);
    }

    // Exact limits, and beside them as wide as the months vary where the last phase's baseline varies more than chance.
    private static (ImmutableArray<PhaseChart> Exact, ImmutableArray<PhaseChart> Wider) Charts<T>(
        ImmutableArray<T> points, ImmutableArray<ChartPhase> declared, ChartBaseline baseline,
        Func<ImmutableArray<T>, ChartBaseline, LimitMethod, ControlChart> chart)
    {
        var exact = Phases(points, declared, baseline, (part, within) => chart(part, within, LimitMethod.Exact));
        var more = exact[^1].Chart is { Variation: > 1 } last && last.Doubts.Contains(ChartDoubt.Overdispersed);
        return (exact, more ? Phases(points, declared, baseline, (part, within) => chart(part, within, LimitMethod.Laney)) : []);
    }

    private static ImmutableArray<PhaseChart> Phases<T>(
        ImmutableArray<T> points, ImmutableArray<ChartPhase> declared, ChartBaseline baseline, Limits<T> limits)
    {
        // The first phase has the declared baseline, which need not be its first months; each later one as many from its own start.
        ImmutableArray<(int Position, T Point)> placed = [.. points.Select((point, i) => (i, point))];
        return ChartPhases.Make(placed, [new(0, baseline.Points, "start of the records"), .. declared], (part, own) =>
            limits([.. part.Select(point => point.Point)], part[0].Position == 0 ? baseline : own));
    }

    private static ImmutableArray<ChartPhase> Declared(MeasureFigures report, SeriesBook book, int months, int baselinePoints) =>
        [.. report.Changes.Where(change => change.NewPhase).Select(change => (From: change.FirstWhole.MonthsSince(book.First), change.What))
            .Where(start => start.From > 0 && start.From < months).DistinctBy(start => start.From).OrderBy(start => start.From)
            .Select(start => new ChartPhase(start.From, baselinePoints, start.What))];

    private static long InBaseline(IEnumerable<long> numbers, ChartBaseline baseline) =>
        numbers.Where((_, i) => baseline.Contains(i)).Sum();
}
