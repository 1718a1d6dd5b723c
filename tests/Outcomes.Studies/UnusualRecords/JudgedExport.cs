using System.Collections.Immutable;
using Outcomes.CaseMix.UnusualRecords;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Run;
using Outcomes.Measures;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>An export that the tool has read and judged.</summary>
/// <param name="Findings">Rules and headings of the findings of each record.</param>
/// <param name="Records">The records that count, with the quantities that the search sees, after what rules blank.</param>
internal sealed record JudgedExport(ILookup<string, string> Findings, IReadOnlyList<RecordQuantities> Records)
{
    /// <summary>The columns for a search, all of the dictionary's; those that nobody collected are empty.</summary>
    public RecordColumn[] Columns() =>
        [.. RecordFields.All.Select((field, at) => new RecordColumn(field.Name, [.. Records.Select(record => record.Values[at])], field.Logarithm))];

    /// <summary>Reads the folder as a run would and judges it by the shipped rules.</summary>
    public static JudgedExport Of(string folder)
    {
        var pipeline = PipelineFile.Read(Path.Combine(folder, "pipeline.yaml"), ImmutableDictionary<string, string>.Empty);
        var catalogue = Catalogue.Of(pipeline);
        using var defined = PipelineRun.Define(pipeline, catalogue, pipeline.AsOf!.Value);
        using var use = RecordStore.Use(pipeline.Store);
        var sources = PipelineRun.Read(pipeline, catalogue);
        using var engine = PipelineRun.Open(defined, pipeline, sources);
        var breaches = engine.Judge();
        var ledger = PipelineRun.KeepLedger(pipeline, catalogue, sources, breaches);
        var findings = FindingList.Of(sources, catalogue, breaches, ledger, pipeline.Strict);
        engine.SetAside(ledger.SetAside());
        RecordQuantities[] records = [.. engine.Quantities([.. RecordFields.All.Select(field => field.Name)]).Where(record => RecordFields.IsAdult(record.Values))];
        return new(findings.Where(finding => finding.File == "procedures.csv").ToLookup(finding => finding.RecordId, finding => $"{finding.Rule}|{finding.Column}"), records);
    }
}
