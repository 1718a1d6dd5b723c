using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>Measures under the headings that pages list them by: what came of it first, the records last.</summary>
public static class MeasureGroups
{
    public static string Title(MeasureGroup group) => group switch
    {
        MeasureGroup.Outcome => "Securing the airway",
        MeasureGroup.Harm => "Oxygenation, circulation and harm",
        MeasureGroup.Preparation => "Preparation",
        MeasureGroup.Technique => "Technique and drugs",
        MeasureGroup.Infection => "Infection precautions",
        MeasureGroup.Data => "Case mix, records and debrief",
        _ => "Other measures",
    };

    /// <summary>
    /// The groups that have a measure, in their order; within one by the measures' own order, and as given where they have none.
    /// </summary>
    internal static IEnumerable<IGrouping<MeasureGroup, MeasureFigures>> Of(IEnumerable<MeasureFigures> measures) =>
        measures.OrderBy(report => report.Measure.Order).GroupBy(report => report.Measure.Group).OrderBy(group => group.Key);
}
