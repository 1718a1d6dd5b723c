using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Asks the engine what the sections of the report need, whatever strata the pipeline names.</summary>
internal static class CountSections
{
    // Split over less, a group could point at a person.
    private const int LeastMonths = 12;

    private static readonly CountResult NoCounts = new([], [], [], []);
    private static readonly ValueResult NoValues = new([], [], [], []);

    /// <summary>Counts by section id; sections with too few months, or nothing to split, are left out.</summary>
    public static ImmutableDictionary<string, SectionCounts> Count(Engine engine, AnalysisPlan plan, Month first) => StrataPlan.Shipped
        .Select(section => (section.Id, Counts: Count(section, engine, plan, first))).Where(each => each.Counts is not null)
        .ToImmutableDictionary(each => each.Id, each => each.Counts!);

    private static SectionCounts? Count(StrataPlan section, Engine engine, AnalysisPlan plan, Month first)
    {
        var from = plan.Month.AddMonths(1 - section.Months) < first ? first : plan.Month.AddMonths(1 - section.Months);
        if (plan.Month.MonthsSince(from) + 1 < LeastMonths)
            return null;
        var measures = section.Proportions(plan);
        ImmutableArray<string> fields = [.. section.Fields.Select(field => field.Field).Where(engine.Knows)];
        if (measures.IsEmpty || fields.IsEmpty)
            return null;
        var quantities = section.SplitQuantities(plan);
        ImmutableArray<string> within = [.. section.Within.Select(field => field.Field).Where(engine.Knows)];
        return new(from, engine.Count(measures, fields), quantities.IsEmpty ? NoValues : engine.Values(quantities, fields),
            section.Compare is var (field, _) && engine.Knows(field.Field)
                ? engine.Count([.. section.Compared(measures).SelectMany(measure => Halves(measure, field.Field))], within)
                : NoCounts)
        {
            Fields = fields,
            Within = within,
        };
    }

    // A measure asked of the records of one level alone can be split by a second field.
    private static Measure[] Halves(Measure measure, string field) => [Half(measure, "yes", field), Half(measure, "no", $"not {field}")];

    private static Measure Half(Measure measure, string half, string condition) =>
        measure with { Id = StrataPlan.Half(measure, half), Eligible = $"({measure.Eligible}) and {condition}" };
}
