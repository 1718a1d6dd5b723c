using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>From counts to what the report says: estimates, run charts, strata, the plan ladder and the state of the data.</summary>
public static class ReportBuilder
{
    private const int Replicates = 2_000;

    // Said in twentieths: a standard error of 2 points is enough.
    private const int SightMonths = 12, SightReplicates = 500;

    public static ReportModel Build(Figures figures, Engine engine, StageWatch watch)
    {
        var (pipeline, book, month) = (figures.Pipeline, figures.Book, figures.Month);
        var yearFrom = month.AddMonths(-11) < book.First ? book.First : month.AddMonths(-11);
        var ladder = watch.Time("plan ladder", () => engine.Ladder(yearFrom, month));
        var completeness = watch.Time("completeness", () => Completeness(figures, engine, yearFrom));
        var byMonth = watch.Time("missing by month", () => engine.CompletenessByMonth(figures.Fields.Select(field => field.Name)).Where(row => row.Month <= month));
        var mixes = watch.Time("case mix", () => FittedMix.All(pipeline, figures.Catalogue, book, engine));
        var caseMix = watch.Time("expected events", () => ExpectedEvents.Of(figures, mixes, yearFrom));
        var signals = new ChangeSignals(pipeline, figures.Catalogue.Measures, book, figures.AsOf, mixes);
        // Side by side: most of the time goes into simulated chances, each from a seed of its own.
        ImmutableArray<MeasureReport> measures =
            [.. figures.Catalogue.Measures.AsParallel().AsOrdered().Select(measure => measure.Kind == MeasureKind.Proportion ? OfProportion(figures, signals, measure, yearFrom) : OfQuantity(figures, measure, yearFrom))];
        var rare = watch.Time("rare events", () => RareEventSeries.Of(figures, engine, measures));
        var (desaturation, hours, infection, readiness) = watch.Time("sections", () =>
            (StratifiedSections.Of(StrataPlan.Desaturation, figures, engine), StratifiedSections.Of(StrataPlan.Hours, figures, engine), StratifiedSections.Of(StrataPlan.Infectious, figures, engine),
                StratifiedSections.Of(StrataPlan.Readiness, figures, engine)));
        var sites = watch.Time("sites", () => SiteComparisons.Of(figures, engine, yearFrom));
        return new ReportModel
        {
            PipelineName = pipeline.Name,
            Month = month,
            First = book.First,
            Last = book.Last,
            AsOf = figures.AsOf,
            Partial = month.LastDay > figures.AsOf,
            Audience = pipeline.Audience,
            Invented = pipeline.Invented,
            Version = Tool.Version,
            DefinitionsHash = figures.Catalogue.Hash,
            Inputs = [.. figures.Sources.Concat(figures.Traces).Select(source => new InputFile(source.Request.File, source.Manifest.Sha256, source.Manifest.Rows))],
            Assumptions = [.. pipeline.Assume.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new Assumption(pair.Key, pair.Value))],
            Procedures = [.. book.First.To(book.Last).Select(each => figures.Records.GetValueOrDefault(each))],
            Capture = figures.Capture,
            Traces = figures.Traces.Count == 0 ? null : Traces.Report(engine, figures.Records, yearFrom, month),
            Reconciliations = figures.Ledger.Files,
            Measures = measures,
            Pace = pipeline.Pace,
            Changes = [.. ChangeEvaluations.Of(figures, measures)],
            RareEvents = rare,
            ControlCharts = ControlChartSeries.Of(figures, measures),
            Agreements = Agreements.Of(figures, engine),
            Desaturation = desaturation,
            Hours = hours,
            Infection = infection,
            Readiness = readiness,
            Sites = sites,
            Ladder = ladder.Records == 0 || ladder.Unknown == ladder.Records ? null : ladder,
            LadderShares = ladder.Plans.Sum(plan => plan.Started) == 0 ? [] : Goodman.Intervals([.. ladder.Plans.Select(plan => plan.Started)]),
            CaseMix = caseMix,
            Findings = FindingGroup.Of(figures.Findings),
            Completeness = completeness,
            Questions = DataQuality.Questions(figures.Fields, byMonth, yearFrom, figures.Sources, figures.Findings, DataQuality.Needs(pipeline, figures.Catalogue, engine)),
            MeasureCompleteness = [.. measures.Where(measure => measure is { Headline: true, NotCollected: null, Measure.Kind: MeasureKind.Proportion })
                .Select(measure => Judged(measure, completeness, engine.FieldsBehind(measure.Measure)))],
            Actions = ActionState.Of(pipeline.Actions.Select(entry => entry.Action), figures.AsOf, month),
            RulesNotRun = [.. engine.SkippedRules.GroupBy(rule => rule.Rule).Select(group =>
                new RuleNotRun(group.Key, $"not collected: {string.Join(", ", group.SelectMany(rule => rule.Fields).Distinct().Order(StringComparer.Ordinal))}")), .. Review.NotRun(engine, figures.Catalogue.Flags)],
        };
    }

    private static MeasureReport OfProportion(Figures figures, ChangeSignals signals, Measure measure, Month yearFrom)
    {
        var (pipeline, book, month) = (figures.Pipeline, figures.Book, figures.Month);
        var headline = pipeline.Headline.Any(word => word.Word == measure.Id);
        var series = book.Whole(measure.Id);
        if (series is null)
            return new MeasureReport { Measure = measure, Headline = headline, NotCollected = WhyNot(figures.Counts.NotCollected, measure) };

        var year = book.Sum(series, yearFrom, month);
        var changes = pipeline.Changes.Select(entry => entry.Change).Where(change => change.Measures.Contains(measure.Id)).ToImmutableArray();
        var phases = Phases(figures, series, changes);
        return new MeasureReport
        {
            Measure = measure,
            Headline = headline,
            ThisMonth = book.Sum(series, month, month),
            Year = year,
            YearEstimate = Proportion.Estimate(year),
            ZeroBound = year is { Met: 0, Eligible: > 0 } ? ClopperPearson.UpperWhenNone(year.Eligible) : null,
            KnownOnly = measure.Missing == MissingRule.NotDone && book.Whole(measure.Id + ".known") is { } known
                ? (book.Sum(known, yearFrom, month), Proportion.Estimate(book.Sum(known, yearFrom, month)))
                : null,
            Series = series,
            Phases = phases,
            Changes = changes,
            Signal = Signal(figures, signals, measure),
            PointIntervals = [.. phases.SelectMany(phase => phase.Points).Select(point => point.Count.Eligible > 0 ? Wilson.Interval(point.Count.Met, point.Count.Eligible) : (Bounds?)null)],
            // Split over less than 12 months a group could point at a person: those counts are in the department's tables, not on its pages.
            Strata = month.MonthsSince(yearFrom) < 11 ? [] : [.. pipeline.Strata.Select(word => word.Word).Where(field => StratumReport.Allowed(measure, field)).Select(field => Stratum(figures, measure, field, yearFrom))],
            RestsOn = [.. figures.Counts.Assumptions.Where(each => each.Measure == measure.Id).SelectMany(each => each.Fields).Distinct().Order(StringComparer.Ordinal)
                .Where(pipeline.Assume.ContainsKey).Select(field => new Assumption(field, pipeline.Assume[field]))],
        };
    }

    private static MeasureReport OfQuantity(Figures figures, Measure measure, Month yearFrom)
    {
        var rows = figures.Values.Rows.Where(row => row.Measure == measure.Id && row.Stratum == CountRow.All).ToArray();
        return new MeasureReport
        {
            Measure = measure,
            Headline = figures.Pipeline.Headline.Any(word => word.Word == measure.Id),
            NotCollected = rows.Length == 0 ? WhyNot(figures.Values.NotCollected, measure) : null,
            ThisMonthQuantity = Summary(figures.Month, figures.Month),
            YearQuantity = Summary(yearFrom, figures.Month),
            YearWithoutValue = rows.Where(row => row.Value is null && row.Month >= yearFrom && row.Month <= figures.Month).Sum(row => row.N),
        };

        QuantitySummary? Summary(Month from, Month to)
        {
            var period = rows.Where(row => row.Month >= from && row.Month <= to).ToArray();
            return QuantitySummary.Of(
                period.Where(row => row.Value is not null).Select(row => ((long)row.Value!.Value, row.N)),
                period.Where(row => row.Value is null).Sum(row => row.N));
        }
    }

    private static string WhyNot(IEnumerable<NotCollected> all, Measure measure)
    {
        var lacking = all.Where(each => each.Measure == measure.Id).SelectMany(each => each.Fields).Distinct().Order(StringComparer.Ordinal).ToArray();
        return lacking.Length > 0 ? $"no source collects {string.Join(", ", lacking)}" : "no record was eligible";
    }

    private static MeasureSignal? Signal(Figures figures, ChangeSignals signals, Measure measure)
    {
        if (signals.Of(measure) is not { } signal)
            return null;
        var power = MeasurePower.Of(measure, signal, figures.Book, signals.Options, signals.Chances(measure), SightMonths, SightReplicates);
        return ChangeSignals.Believed(signal, figures.Capture) with
        {
            Sights = power is null ? [] : [.. power.Changes.Where(change => change.Detection?.Noticed.Length == SightMonths)
                .Select(change => new Sight(power.Rate, change.To, SightMonths, change.Detection!.Within(SightMonths)))],
        };
    }

    // The seed is fixed: a chance that was printed once is printed again from the same counts.
    private static ImmutableArray<RunChart> Phases(Figures figures, Series series, IEnumerable<DeclaredChange> changes)
    {
        var baseline = figures.Pipeline.Baseline;
        int[] starts = [.. changes.Where(change => change.NewPhase).Select(change => change.FirstWhole.MonthsSince(figures.Book.First)).Distinct()];
        return RunChartPhases.Analyse(series, starts, new RunChartOptions
        {
            BaselineFrom = baseline is var (from, _) ? Math.Clamp(from.MonthsSince(figures.Book.First), 0, series.Counts.Length - 1) : 0,
            BaselineMonths = figures.Pipeline.WholeBaseline ? int.MaxValue : baseline is var (_, months) ? months : 12,
            Span = figures.Pipeline.Span,
            Uniform = SplitMix64.Uniform(20_140_101),
            Replicates = Replicates,
        });
    }

    private static StratumReport Stratum(Figures figures, Measure measure, string field, Month yearFrom)
    {
        var book = figures.Book;
        var found = figures.Catalogue.Dictionary.Find(FieldDictionary.Procedure, field) ?? figures.Catalogue.Dictionary.Find(FieldDictionary.Attempt, field);
        var order = found?.Allowed ?? [];
        var levels = book.Cells(measure.Id).Where(cell => cell.Stratum == field).Select(cell => cell.Level)
            .OrderBy(level => order.IndexOf(level) is var at && at < 0 ? int.MaxValue : at).ThenBy(level => level, StringComparer.Ordinal);
        return StratumReport.Of(field, found?.Title ?? field,
            levels.Select(level => (level, book.Sum(book.Of(measure.Id, field, level), yearFrom, figures.Month))), count => Proportion.Estimate(count));
    }

    private static ImmutableArray<FieldCompleteness> Completeness(Figures figures, Engine engine, Month from)
    {
        var known = engine.Completeness(from, figures.Month, figures.Fields.Select(field => field.Name)).ToDictionary(row => row.Field);
        return
        [
            .. figures.Fields.Where(field => field.Core || known.ContainsKey(field.Name))
                .Select(field => known.TryGetValue(field.Name, out var row)
                    ? new FieldCompleteness(field.Name, field.Title, row.Known, row.Records)
                    : new FieldCompleteness(field.Name, field.Title, 0, 0, Collected: false)),
        ];
    }

    // Of the fields of a measure, those of the record; the three least known say where to begin.
    private static MeasureCompleteness Judged(MeasureReport measure, ImmutableArray<FieldCompleteness> known, ImmutableArray<string> behind) => new(
        measure.Measure.Title, measure.Year.Eligible, measure.Year.Eligible + measure.Year.Missing,
        [.. known.Where(field => field is { Collected: true, Of: > 0 } && behind.Contains(field.Field)).OrderBy(field => field.Known / (double)field.Of).ThenBy(field => field.Field, StringComparer.Ordinal).Take(3)]);
}
