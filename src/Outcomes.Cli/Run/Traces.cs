using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Ingestion.Traces;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Model;

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

    /// <summary>How many records from one month to another have a trace, and what it can be judged for.</summary>
    public static TraceReport Report(Engine engine, IReadOnlyDictionary<Month, long> records, Month from, Month to)
    {
        var signals = ((string, string)[])[("spo2", "SpO2"), ("sbp", "systolic pressure"), ("map", "mean pressure")];
        return new TraceReport(
            records.Where(pair => pair.Key >= from && pair.Key <= to).Sum(pair => pair.Value), Levels("trace_spo2_status").Sum(row => row.Records),
            [.. signals.Select(signal => Signal(signal.Item1, signal.Item2))]);

        TraceSignal Signal(string name, string title)
        {
            var statuses = Levels($"trace_{name}_status").GroupBy(row => row.Level).ToDictionary(group => group.Key!, group => group.Sum(row => row.Records));
            var coverage = Levels($"trace_{name}_coverage").Select(row => (Value: double.Parse(row.Level!, CultureInfo.InvariantCulture), row.Records)).OrderBy(row => row.Value).ToArray();
            var (middle, below) = (coverage.Sum(row => row.Records) / 2, 0L);
            double? median = coverage.Length == 0 ? null : coverage.First(row => (below += row.Records) > middle).Value;
            return new TraceSignal(title, Of("sufficient"), Of("low_coverage"), Of("too_sparse"), Of("no_samples"), median);

            long Of(string status) => statuses.GetValueOrDefault(status);
        }

        IEnumerable<LevelCount> Levels(string column) => engine.Levels(column).Where(row => row.Level is not null && row.Month >= from && row.Month <= to);
    }
}
