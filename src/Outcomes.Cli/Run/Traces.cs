using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Cli.Run;

/// <summary>The pipeline's sources of monitor traces: read, summarised for their records, and what was found wrong with them.</summary>
public static class Traces
{
    /// <summary>Reads the traces and gives the records their fields; null where the pipeline has none.</summary>
    /// <exception cref="Failure">A whole file is refused (exit 4); an output folder, if given, then holds the record of it.</exception>
    public static TraceSet? Read(Pipeline pipeline, Catalogue catalogue, IReadOnlyList<IngestedSource> sources, OutputFolder? output = null)
    {
        var requests = PipelineRun.Requests(pipeline).Where(request => request.Mapping.Table.RowsAreSamples).ToArray();
        if (requests.Length == 0) return null;
        try
        {
            return TraceTables.Of(sources, [.. requests.Select(request => Ingest.Read(request, catalogue.Dictionary, pipeline.Store))], catalogue.Dictionary, pipeline.Store);
        }
        catch (Failure refusal) when (refusal.Rule.Length > 0 && output is not null)
        {
            RefusedFile.Write(output, pipeline.Name, refusal);
            throw;
        }
    }

    /// <summary>What is wrong with samples: one finding a column and rule with the number of rows, and one a trace that no record has.</summary>
    public static IEnumerable<Finding> Findings(TraceSet traces, FieldDictionary dictionary, Ledger ledger, bool strict)
    {
        for (var t = 0; t < traces.Traces.Count; t++)
        {
            var source = traces.Traces[t];
            foreach (var cell in FindingLog.Read(source.FindingsPath))
            {
                var field = cell.Field.Length == 0 ? null : dictionary.Find(FieldDictionary.Trace, cell.Field);
                yield return new Finding(
                    CellRules.Id(cell.Rule), CellRules.SeverityOf(cell.Rule, field, strict), source.Request.File, cell.Line,
                    cell.FileColumn < 0 ? "" : source.Manifest.Headings[cell.FileColumn], "",
                    string.Create(CultureInfo.InvariantCulture, $"{CellRules.Explain(cell.Rule, field, cell.Count)} Samples: {cell.Count} in this file, the first at this line."));
            }

            foreach (var fate in ledger.Traces.Where(fate => fate.Trace == t && fate.Rule == TraceLedger.NoRecord))
                yield return new Finding(fate.Rule, Severity.Refuse, source.Request.File, fate.Line, "", fate.Key, string.Create(CultureInfo.InvariantCulture,
                    $"No accepted record has this key, so the trace belongs to nothing; add the record or correct the key. Samples: {fate.Rows}."));
        }
    }
}
