using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Asks the engine everything that a department's figures need: the step from records to counts.</summary>
public static class CountDepartment
{
    /// <summary>The counts of a department, without what only its sources know: inputs, findings, capture, cases.</summary>
    /// <param name="engine">The records, with the rows set aside.</param>
    /// <param name="plan">What is asked.</param>
    /// <param name="records">Accepted records by month.</param>
    public static DepartmentCounts Count(Engine engine, AnalysisPlan plan, IReadOnlyDictionary<Month, long> records)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(plan);
        var counted = new DepartmentCounts
        {
            Plan = plan,
            Records = records,
            Counts = engine.Count(plan.Definitions.Measures, plan.Strata),
            Values = engine.Values(plan.Definitions.Measures, plan.Strata),
            Flow = Flow.ByMonth(records, engine.CountedAs()),
            Delays = engine.Levels(EntryDelays.Field),
            Harm = engine.Harm(plan.Definitions.Flags),
        };
        var first = counted.Book.First;
        return counted with
        {
            Decided = Decided(engine, counted),
            Ladder = engine.Ladder(counted.YearFrom, plan.Month),
            CaseMixDesigns = CaseMix(engine, plan),
            EventDesigns = Events(engine, counted),
            Sections = CountSections.Count(engine, plan, first),
            Sites = Sites(engine, plan),
            Agreements = CountSections.Agreements(engine, plan, first),
            Questions = [.. plan.Definitions.Questions.Select(question => SettleQuestion.Find(question, plan, engine, records.Keys))
                .OfType<AskedQuestion>().Select(asked => CountQuestion.Count(asked, plan, engine, records, withCaseMix: true))],
        };
    }

    /// <summary>The proportions by month and stratum, and no more: what a set for others is made from.</summary>
    public static DepartmentCounts CountProportions(Engine engine, AnalysisPlan plan, IReadOnlyDictionary<Month, long> records)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(plan);
        return new()
        {
            Plan = plan,
            Records = records,
            Counts = engine.Count([.. plan.Definitions.Measures.Where(measure => measure.Kind == MeasureKind.Proportion)], plan.Strata),
        };
    }

    /// <summary>The counts that the monthly test of change needs, and no more.</summary>
    public static DepartmentCounts CountTested(Engine engine, AnalysisPlan plan, IReadOnlyDictionary<Month, long> records)
    {
        ArgumentNullException.ThrowIfNull(engine);
        ArgumentNullException.ThrowIfNull(plan);
        return new()
        {
            Plan = plan,
            Records = records,
            Counts = engine.Count([.. plan.Definitions.Measures.Where(measure => ChangeSignals.IsTested(plan, measure))], []),
            CaseMixDesigns = CaseMix(engine, plan),
            Delays = engine.Levels(EntryDelays.Field),
        };
    }

    private static ImmutableArray<CountRow> Decided(Engine engine, DepartmentCounts counted)
    {
        Measure[] asked =
        [
            .. counted.Plan.Definitions.Measures
                .Where(measure => measure is { Kind: MeasureKind.Proportion, Settled: Settled.All, Missing: MissingRule.Dropped }
                    && counted.Book.Sum(counted.Book.Whole(measure.Id), counted.YearFrom, counted.Month).Missing > 0)
                .Select(measure => measure with { Settled = Settled.Any }),
        ];
        return asked.Length == 0 ? [] : engine.Count(asked, []).Rows;
    }

    private static ImmutableDictionary<string, Design> CaseMix(Engine engine, AnalysisPlan plan) => plan.CaseMix is not { } asked
        ? ImmutableDictionary<string, Design>.Empty
        : plan.Definitions.Measures.IntersectBy(asked.Measures, measure => measure.Id)
            .ToImmutableDictionary(measure => measure.Id, measure => engine.Design(measure, FittedMix.Asked(asked)),
                StringComparer.Ordinal);

    private static ImmutableDictionary<string, Design> Events(Engine engine, DepartmentCounts counted)
    {
        Measure[] told = [.. counted.Plan.Definitions.Measures.Where(measure => RareEventSeries.IsTold(counted, measure))];
        return told.Zip(engine.Designs(told, [RareEventSeries.Date]))
            .ToImmutableDictionary(pair => pair.First.Id, pair => pair.Second, StringComparer.Ordinal);
    }

    private static ImmutableArray<CountRow> Sites(Engine engine, AnalysisPlan plan) =>
        engine.Levels(Capture.SiteField).Select(row => row.Level).Where(level => level is not null).Distinct().Count() < 2
            ? []
            : engine.Count(SiteComparisons.Compared(plan), [Capture.SiteField]).Rows;
}
