using System.Globalization;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Cli.Checking;

/// <summary>What was found wrong with the sources of monitor traces.</summary>
public static class TraceFindings
{
    /// <summary>
    /// What is wrong with samples: one finding a column and rule with the number of rows, and one a trace that no record has.
    /// </summary>
    public static IEnumerable<Finding> List(TraceSet traces, FieldDictionary dictionary, Ledger ledger, bool strict)
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
                    string.Create(CultureInfo.InvariantCulture,
                        $"{CellRules.Explain(cell.Rule, field, cell.Count)} Samples: {cell.Count} in this file, the first at this line."));
            }

            foreach (var fate in ledger.Traces.Where(fate => fate.Trace == t && fate.Rule == TraceLedger.NoRecord))
                yield return new Finding(fate.Rule, Severity.Refuse, source.Request.File, fate.Line, "", fate.Key,
                    string.Create(CultureInfo.InvariantCulture,
                        $"No accepted record has this key, so the trace belongs to nothing; add the record or correct the key. "
                            + $"Samples: {fate.Rows}."));
        }
    }
}
