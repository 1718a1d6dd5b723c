using System.Collections.Immutable;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>
/// The fate of attempts: that of their record; and where several sources hold attempts of one record, only the newest source's count.
/// </summary>
internal static class AttemptRows
{
    /// <summary>What decides the fate of an attempt.</summary>
    /// <param name="Sources">The sources.</param>
    /// <param name="Hashes">The key of each row of each source, as its hash.</param>
    /// <param name="Fates">What has become of each row so far.</param>
    /// <param name="Records">The best fate of each record.</param>
    /// <param name="Newest">The newest source that holds attempts of each record.</param>
    private sealed record Known(
        ImmutableArray<IngestedSource> Sources, ulong[][] Hashes, byte[][] Fates, Dictionary<ulong, Fate> Records,
        Dictionary<ulong, int> Newest);

    public static ImmutableArray<SetAside> Settle(
        ImmutableArray<IngestedSource> sources, ulong[][] hashes, RowMarks[][] marks, byte[][] fates, Dictionary<(int, int), string> rules,
        ImmutableArray<int> home)
    {
        var seen = sources.Select(_ => new HashSet<(ulong Key, int Number)>()).ToArray();
        var records = BestRecords(sources, hashes, fates);
        var newest = NewestSourceOfAttempts(sources, hashes, marks, fates, records, home);
        var known = new Known(sources, hashes, fates, records, newest);
        var replaced = ImmutableArray.CreateBuilder<SetAside>();
        for (var s = 0; s < sources.Length; s++)
        {
            if (sources[s].Manifest.RowsAreAttempts)
            {
                SettleFile(known, rules, seen[home[s]], s, home[s]);
                continue;
            }

            for (var row = 0; row < fates[s].Length; row++)
                if (fates[s][row] == (byte)Fate.Accepted && (marks[s][row] & RowMarks.HasAttempts) != 0
                    && newest.GetValueOrDefault(hashes[s][row], home[s]) != home[s])
                    replaced.Add(new SetAside(sources[s].Request.Order, Attempts: true, row));
        }

        return replaced.ToImmutable();
    }

    // By the key's 64-bit hash: with a million keys the chance that any two share one is about 3 in 100 million.
    private static Dictionary<ulong, Fate> BestRecords(ImmutableArray<IngestedSource> sources, ulong[][] hashes, byte[][] fates)
    {
        var records = new Dictionary<ulong, Fate>();
        for (var s = 0; s < sources.Length; s++)
        {
            if (sources[s].Manifest.RowsAreAttempts) continue;
            for (var row = 0; row < fates[s].Length; row++)
            {
                var fate = (Fate)fates[s][row];
                if (hashes[s][row] == 0 || fate == Fate.Superseded) continue;
                if (!records.TryGetValue(hashes[s][row], out var known) || Rank(fate) < Rank(known)) records[hashes[s][row]] = fate;
            }
        }

        return records;
    }

    private static int Rank(Fate fate) => fate switch { Fate.Accepted => 0, Fate.Withdrawn => 1, _ => 2 };

    private static Dictionary<ulong, int> NewestSourceOfAttempts(
        ImmutableArray<IngestedSource> sources, ulong[][] hashes, RowMarks[][] marks, byte[][] fates, Dictionary<ulong, Fate> records,
        ImmutableArray<int> home)
    {
        var newest = new Dictionary<ulong, int>();
        for (var s = 0; s < sources.Length; s++)
            for (var row = 0; row < fates[s].Length; row++)
                if (fates[s][row] == (byte)Fate.Accepted && records.GetValueOrDefault(hashes[s][row], Fate.Quarantined) == Fate.Accepted
                    && (sources[s].Manifest.RowsAreAttempts || (marks[s][row] & RowMarks.HasAttempts) != 0))
                    newest[hashes[s][row]] = Math.Max(newest.GetValueOrDefault(hashes[s][row]), home[s]);
        return newest;
    }

    private static void SettleFile(
        Known known, Dictionary<(int, int), string> rules, HashSet<(ulong Key, int Number)> seen, int s, int home)
    {
        var (sources, hashes, fates, records, newest) = known;
        var row = 0;
        foreach (var block in RowIndex.Read(sources[s].IndexPath))
            for (var i = 0; i < block.Count; i++, row++)
            {
                if (fates[s][row] != (byte)Fate.Accepted) continue;
                var (fate, rule) = !records.TryGetValue(hashes[s][row], out var record) ? (Fate.Quarantined, LedgerKeeper.NoRecord)
                    : record == Fate.Withdrawn ? (Fate.Withdrawn, LedgerKeeper.Deleted)
                    : record != Fate.Accepted ? (Fate.Quarantined, LedgerKeeper.NoRecord)
                    : newest[hashes[s][row]] != home ? (Fate.Superseded, LedgerKeeper.Corrected)
                    : !seen.Add((hashes[s][row], block.Attempt[i])) ? home == s
                        ? (Fate.Quarantined, LedgerKeeper.AttemptRepeated)
                        : (Fate.Superseded, LedgerKeeper.Corrected)
                    : (Fate.Accepted, "");
                if (fate == Fate.Accepted) continue;
                fates[s][row] = (byte)fate;
                rules.TryAdd((s, row), rule);
            }
    }
}
