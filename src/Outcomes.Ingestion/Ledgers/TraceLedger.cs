using System.Text;
using Outcomes.Ingestion.Store;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>Rows of one record in one trace file that share a fate.</summary>
/// <param name="Trace">Place of the file among the sources of traces.</param>
/// <param name="Line">The first of the rows.</param>
/// <param name="Key">The record's key; empty for rows without one.</param>
/// <param name="Fate">What became of them.</param>
/// <param name="Rule">What decided it; empty where accepted.</param>
/// <param name="Rows">How many they are.</param>
public sealed record TraceFate(int Trace, int Line, string Key, Fate Fate, string Rule, long Rows);

/// <summary>
/// The fate of samples. A row without a usable key, offset or signal is quarantined. The others share their record's fate: withdrawn with
/// it, quarantined where there is none. A newer source that holds a trace of the record replaces all of it.
/// </summary>
public static class TraceLedger
{
    public const string NoRecord = "trace_without_record";
    public const string BadCell = "sample_with_bad_cell";

    /// <summary>The fates of every row of every trace file, a line a record and fate.</summary>
    /// <param name="traces">The sources of traces, in their order.</param>
    /// <param name="sources">The sources of records and attempts.</param>
    /// <param name="fateOf">What became of a row of those.</param>
    /// <param name="strict">True when any bad cell quarantines its row.</param>
    public static IReadOnlyList<TraceFate> Settle(
        IReadOnlyList<IngestedSource> traces, IReadOnlyList<IngestedSource> sources, Func<int, int, Fate> fateOf, bool strict)
    {
        var held = traces.Select(trace => TraceFile.Read(trace.Stored.Folder)).ToArray();
        var newest = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var t = 0; t < held.Length; t++)
            foreach (var rows in held[t])
                if (rows.HoldTrace) newest[rows.Key] = t;
        var records = Records(sources, fateOf, newest);
        var fates = new List<TraceFate>();
        for (var t = 0; t < held.Length; t++)
            foreach (var rows in held[t])
            {
                if (rows.Held > 0) fates.Add(new TraceFate(t, rows.HeldLine, rows.Key, Fate.Quarantined, rows.HeldRule, rows.Held));
                var faults = strict ? rows.Faults : 0;
                if (faults > 0) fates.Add(new TraceFate(t, rows.FaultLine, rows.Key, Fate.Quarantined, BadCell, faults));
                if (rows.Rows - rows.Held - faults is not (var left and > 0)) continue;
                var (fate, rule) = !records.TryGetValue(rows.Key, out var record) ? (Fate.Quarantined, NoRecord)
                    : record == Fate.Withdrawn ? (Fate.Withdrawn, LedgerKeeper.Deleted)
                    : record != Fate.Accepted ? (Fate.Quarantined, NoRecord)
                    : newest[rows.Key] != t ? (Fate.Superseded, LedgerKeeper.Corrected)
                    : (Fate.Accepted, "");
                fates.Add(new TraceFate(t, rows.Line, rows.Key, fate, rule, left));
            }

        return fates;
    }

    // A record that is superseded is there in a later version; accepted is better than withdrawn, and withdrawn than quarantined.
    private static Dictionary<string, Fate> Records(
        IReadOnlyList<IngestedSource> sources, Func<int, int, Fate> fateOf, Dictionary<string, int> wanted)
    {
        var records = new Dictionary<string, Fate>(StringComparer.Ordinal);
        for (var s = 0; s < sources.Count; s++)
        {
            if (sources[s].Manifest.RowsAreAttempts) continue;
            var row = 0;
            foreach (var block in RowIndex.Read(sources[s].IndexPath))
                for (var i = 0; i < block.Count; i++, row++)
                {
                    var fate = fateOf(s, row);
                    if (fate == Fate.Superseded || block.Key(i).IsEmpty) continue;
                    var key = Encoding.UTF8.GetString(block.Key(i));
                    if (wanted.ContainsKey(key) && (!records.TryGetValue(key, out var known) || Rank(fate) < Rank(known)))
                        records[key] = fate;
                }
        }

        return records;
    }

    private static int Rank(Fate fate) => fate switch { Fate.Accepted => 0, Fate.Withdrawn => 1, _ => 2 };
}
