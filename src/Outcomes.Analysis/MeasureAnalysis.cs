using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Each measure's counts as estimates, run charts and strata.</summary>
internal static class MeasureAnalysis
{
    // Printed in twentieths: a standard error of 2 points is enough.
    private const int SightMonths = 12, SightReplicates = 500;

    /// <summary>
    /// Every measure of the plan, in its order. Side by side: most of the time goes into simulated chances, each from a seed of its own.
    /// </summary>
    public static ImmutableArray<MeasureFigures> All(DepartmentCounts department, ChangeSignals signals)
    {
        var decided = department.ReadDecided();
        return
        [
            .. department.Plan.Definitions.Measures.Where(measure => measure.Population != Population.Children).AsParallel().AsOrdered()
                .Select(measure => measure.Kind == MeasureKind.Proportion
                    ? OfProportion(department, signals, decided, measure)
                    : OfQuantity(department, measure)),
        ];
    }

    private static MeasureFigures OfProportion(
        DepartmentCounts department, ChangeSignals signals, SeriesBook decided, Measure measure)
    {
        var (plan, book, month, yearFrom) = (department.Plan, department.Book, department.Month, department.YearFrom);
        var headline = plan.IsHeadline(measure);
        var series = book.Whole(measure.Id);
        if (series is null)
            return new MeasureFigures
            {
                Measure = measure,
                Headline = headline,
                NotCollected = WhyNot(department.Counts.NotCollected, measure)
            };

        var year = book.Sum(series, yearFrom, month);
        var phases = MeasurePhases.Of(department, measure, series);
        var months = Months(department, series);
        var (bounds, settled) = Bounded(department, decided, measure, year);
        return new MeasureFigures
        {
            Measure = measure,
            Headline = headline,
            ThisMonth = book.Sum(series, month, month),
            Year = year,
            YearEstimate = VaryingMonths.Estimate(months),
            YearPlain = VaryingMonths.Plain(VaryingMonths.Estimate(months)),
            YearBounds = bounds,
            YearDecided = settled,
            YearDispersion = VaryingMonths.Dispersion(months),
            Denominator = Denominator(department.FlowIn(yearFrom, month), measure, year),
            ZeroBound = year is { Met: 0, Eligible: > 0 } ? ClopperPearson.UpperWhenNone(year.Eligible) : null,
            KnownOnly = measure.Missing == MissingRule.NotDone && book.Whole(measure.Id + ".known") is { } known
                ? (book.Sum(known, yearFrom, month), VaryingMonths.Estimate(Months(department, known)))
                : null,
            Series = series,
            Phases = phases,
            Changes = plan.ChangesOf(measure),
            Signal = Signal(department, signals, measure),
            PointIntervals = [.. phases.SelectMany(phase => phase.Points)
                .Select(point => point.Count.Eligible > 0 ? Wilson.Interval(point.Count.Met, point.Count.Eligible) : (Bounds?)null)],
            // Split over less than 12 months a group could point at a person: those counts are in the department's tables,
            // not on its pages.
            Strata = month.MonthsSince(yearFrom) < 11 ? [] : [.. plan.Strata.Where(field => StratumFigures.Allowed(measure, field))
                .Select(field => Stratum(department, measure, field, months))],
            RestsOn = [.. department.Counts.Assumptions.Where(each => each.Measure == measure.Id).SelectMany(each => each.Fields).Distinct()
                .Order(StringComparer.Ordinal)
                .Where(plan.Assume.ContainsKey).Select(field => new Assumption(field, plan.Assume[field]))],
        };
    }

    // Sharp bounds: a record that a known part decides moves neither end. Sources without some of the parts are counted differently there,
    // and then say nothing here.
    private static (Bounds? Bounds, long Decided) Bounded(
        DepartmentCounts department, SeriesBook decided, Measure measure, Count year)
    {
        if (year.Eligible + year.Missing == 0)
            return (null, 0);
        var known = decided.Sum(decided.Whole(measure.Id), department.YearFrom, department.Month);
        return known.Eligible >= year.Eligible && known.Eligible + known.Missing == year.Eligible + year.Missing
            ? (Proportion.MissingBounds(known), year.Missing - known.Missing)
            : (Proportion.MissingBounds(year), 0);
    }

    private static MeasureFigures OfQuantity(DepartmentCounts department, Measure measure)
    {
        var rows = department.Values.Rows.Where(row => row.Measure == measure.Id && row.Stratum == CountRow.All).ToArray();
        return new MeasureFigures
        {
            Measure = measure,
            Headline = department.Plan.IsHeadline(measure),
            NotCollected = rows.Length == 0 ? WhyNot(department.Values.NotCollected, measure) : null,
            ThisMonthQuantity = Summary(department.Month, department.Month),
            YearQuantity = Summary(department.YearFrom, department.Month),
            YearWithoutValue = QuantitySummary.CountMissing(Within(department.YearFrom, department.Month)),
            YearUnrecordable = QuantitySummary.CountUnrecordable(Within(department.YearFrom, department.Month)),
        };

        ValueRow[] Within(Month from, Month to) => [.. rows.Where(row => row.Month >= from && row.Month <= to)];

        QuantitySummary? Summary(Month from, Month to) => QuantitySummary.Of(Within(from, to), measure);
    }

    // A definition that names the emergency population starts from it; who is not known to belong is missing and not outside.
    private static DenominatorFlow? Denominator(Flow? flow, Measure measure, Count year)
    {
        if (flow is not { } known)
            return null;
        var all = !measure.AsksEmergencies;
        var (from, notKnown) = all ? (known.Recorded, 0) : (known.Analysed + known.NotKnown, known.NotKnown);
        var outside = from - year.Eligible - year.Missing;
        return outside < 0 ? null : new DenominatorFlow(all, from, notKnown, outside);
    }

    private static NoFigures WhyNot(IEnumerable<NotCollected> all, Measure measure) =>
        new([.. all.Where(each => each.Measure == measure.Id).SelectMany(each => each.Fields).Distinct().Order(StringComparer.Ordinal)]);

    private static MeasureSignal? Signal(DepartmentCounts department, ChangeSignals signals, Measure measure)
    {
        if (signals.Of(measure) is not { } signal)
            return null;
        var power = MeasurePower.Of(measure, signal, department.Book, signals.Options, signals.Chances(measure),
            SightMonths, SightReplicates);
        return signal with
        {
            Sights = power is null ? [] : [.. power.Changes.Where(change => change.Detection?.Noticed.Length == SightMonths)
                .Select(change => new Sight(power.Rate, change.To, SightMonths, change.Detection!.Within(SightMonths)))],
        };
    }

    private static IReadOnlyList<Count> Months(DepartmentCounts department, Series? series) =>
        [.. department.YearFrom.To(department.Month).Select(month => department.Book.Sum(series, month, month))];

    private static StratumFigures Stratum(DepartmentCounts department, Measure measure, string field, IReadOnlyList<Count> all)
    {
        var book = department.Book;
        var order = department.Plan.Titles.Order(field);
        var levels = book.Cells(measure.Id).Where(cell => cell.Stratum == field).Select(cell => cell.Level)
            .OrderBy(level => order.IndexOf(level) is var at && at < 0 ? int.MaxValue : at).ThenBy(level => level, StringComparer.Ordinal);
        return StratumFigures.Of(field,
            levels.Select(level => (level, book.Sum(book.Of(measure.Id, field, level), department.YearFrom, department.Month))),
            (_, levels) => VaryingMonths.EstimateLevel(
                VaryingMonths.Add(levels.Select(level => Months(department, book.Of(measure.Id, field, level)))), all));
    }
}
