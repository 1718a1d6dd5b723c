using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Which fields a report says something about.</summary>
public static class ReportedFields
{
    /// <summary>
    /// The core fields, and those that a figure of this pipeline rests on: what else is missing changes nothing that is printed.
    /// </summary>
    public static ImmutableArray<Field> Find(AnalysisPlan plan, Engine engine)
    {
        // A department that treats no children is not asked for what their figures need.
        var wanted = plan.Definitions.Measures.Where(measure => measure.Population != Population.Children)
            .SelectMany(measure => engine.FieldsBehind(measure)).Concat(plan.Strata)
            .ToHashSet(StringComparer.Ordinal);
        // What a trace shows is not filled in by anyone: the paragraph on traces says how many records have one.
        return [.. plan.Definitions.Dictionary.Of(FieldDictionary.Procedure).Where(field => !FieldDictionary.IsFromTraces(field))
            .Where(field => field.Core || wanted.Contains(field.Name))
            .Where(field => engine.Collects(field.Name) || !IsGivenByAnother(field, plan, engine))];
    }

    // An age band is not asked for where ages are collected: both give the same columns, and one is enough.
    private static bool IsGivenByAnother(Field field, AnalysisPlan plan, Engine engine)
    {
        var giving = plan.Definitions.Derived.Where(column => column.Needs.Any(group => group.Contains(field.Name))).ToList();
        return giving.Count > 0
            && giving.All(column => column.Needs.Any(group => !group.Contains(field.Name) && group.All(engine.Collects)));
    }
}
