using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>Which measures of a pipeline a section asks for. Those that the pipeline does not have are left out.</summary>
internal static class SectionMeasures
{
    /// <summary>The proportions of a section, limited to the records that it is about.</summary>
    public static ImmutableArray<Measure> Proportions(SectionDefinition section, AnalysisPlan plan) =>
        [.. Asked(section, plan, MeasureKind.Proportion)
            .Select(measure => section.Among is { } among ? measure.Among(among) : measure)];

    /// <summary>The quantities of a section.</summary>
    public static ImmutableArray<Measure> Quantities(SectionDefinition section, AnalysisPlan plan) =>
        [.. Asked(section, plan, MeasureKind.Quantity)];

    /// <summary>Those of the section's measures that are compared.</summary>
    public static IEnumerable<Measure> Compared(SectionComparison compare, IEnumerable<Measure> measures) =>
        measures.Where(measure => compare.Measures.IsEmpty || compare.Measures.Contains(measure.Id));

    /// <summary>The id under which a measure is counted among the records of one half of the comparison.</summary>
    public static string Half(Measure measure, string half) => $"{measure.Id} {half}";

    private static IEnumerable<Measure> Asked(SectionDefinition section, AnalysisPlan plan, MeasureKind kind) => section.Measures
        .SelectMany(id => id == SectionDefinition.Headline ? plan.Headline : [id]).Distinct()
        .Select(id => plan.Definitions.Measures.FirstOrDefault(measure => measure.Id == id && measure.Kind == kind)).OfType<Measure>()
        .Select(measure => section.Population == Population.Children ? measure.AskedOfChildren()
            : measure.Population == Population.Children ? null : measure).OfType<Measure>();
}
