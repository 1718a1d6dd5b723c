using System.Collections.Immutable;
using Outcomes.CaseMix.UnusualRecords;
using Outcomes.Cli;
using Outcomes.Cli.Definitions;
using Outcomes.Measures;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>An export that the tool has read and judged.</summary>
/// <param name="Findings">Rules and headings of the findings of each record.</param>
/// <param name="Records">The records that count, with the quantities that the search sees, after what rules blank.</param>
internal sealed record JudgedExport(ILookup<string, string> Findings, IReadOnlyList<RecordQuantities> Records)
{
    /// <summary>The columns for a search, all of the dictionary's; those that nobody collected are empty.</summary>
    public RecordColumn[] Columns() =>
        [.. RecordFields.All.Select(
            (field, at) => new RecordColumn(field.Name, [.. Records.Select(record => record.Values[at])], field.Logarithm))];

    /// <summary>Reads the folder as a run would and judges it by the shipped rules.</summary>
    public static JudgedExport Of(string folder)
    {
        var pipeline = PipelineFile.Read(Path.Combine(folder, "pipeline.yaml"), ImmutableDictionary<string, string>.Empty);
        using var judged = CheckedRecords.Open(pipeline, pipeline.AsOf!.Value);
        var (engine, findings) = (judged.Engine, judged.Findings());
        RecordQuantities[] records = [.. engine.Quantities([.. RecordFields.All.Select(field => field.Name)])
            .Where(record => RecordFields.IsAdult(record.Values))];
        return new(findings.Where(finding => finding.File == "procedures.csv")
            .ToLookup(finding => finding.RecordId, finding => $"{finding.Rule}|{finding.Column}"), records);
    }
}
