using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Asks the engine what the sections of the report need, whatever strata the pipeline names.</summary>
internal static class CountSections
{
    private static readonly CountResult NoCounts = new([], [], [], []);
    private static readonly ValueResult NoValues = new([], [], [], []);

    /// <summary>Counts by section id; sections with too few months, or nothing to split, are left out.</summary>
    public static ImmutableDictionary<string, SectionCounts> Count(Engine engine, AnalysisPlan plan, Month first) =>
        plan.Definitions.Sections.Where(section => !section.Strata.IsEmpty)
            .Select(section => (section.Id, Counts: Count(section, engine, plan, first))).Where(each => each.Counts is not null)
            .ToImmutableDictionary(each => each.Id, each => each.Counts!, StringComparer.Ordinal);

    /// <summary>Records by what both places of each agreement pair answer, over all months up to the report month.</summary>
    public static ImmutableDictionary<AgreementPair, ImmutableArray<AgreementCount>> Agreements(
        Engine engine, AnalysisPlan plan, Month first) =>
        plan.Definitions.Sections.SelectMany(section => section.Agreement).ToImmutableDictionary(
            pair => pair, pair => engine.Agreement(pair, first, plan.Month).ToImmutableArray());

    private static SectionCounts? Count(SectionDefinition section, Engine engine, AnalysisPlan plan, Month first)
    {
        var from = plan.Month.AddMonths(1 - section.Months) < first ? first : plan.Month.AddMonths(1 - section.Months);
        if (plan.Month.MonthsSince(from) + 1 < SectionFile.LeastMonths)
            return null;
        var measures = SectionMeasures.Proportions(section, plan);
        ImmutableArray<string> fields = [.. section.Strata.Where(engine.Knows)];
        if (measures.IsEmpty || fields.IsEmpty)
            return null;
        var quantities = SectionMeasures.Quantities(section, plan);
        ImmutableArray<string> within = [.. (section.Compare?.Within ?? []).Where(engine.Knows)];
        return new(from, engine.Count(measures, fields), quantities.IsEmpty ? NoValues : engine.Values(quantities, fields),
            section.Compare is { } compare && engine.Knows(compare.By)
                ? engine.Count([.. SectionMeasures.Compared(compare, measures).SelectMany(measure => Halves(measure, compare.By))], within)
                : NoCounts)
        {
            Fields = fields,
            Within = within,
        };
    }

    // A measure asked of the records of one level alone can be split by a second field.
    private static Measure[] Halves(Measure measure, string field) => [Half(measure, "yes", field), Half(measure, "no", $"not {field}")];

    private static Measure Half(Measure measure, string half, string condition) =>
        measure.Among(condition) with { Id = SectionMeasures.Half(measure, half) };
}
