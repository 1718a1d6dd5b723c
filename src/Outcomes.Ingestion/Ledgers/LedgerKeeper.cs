using System.Collections.Immutable;
using System.Text;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>
/// Decides the fate of every row. First each row on its own: quarantined for a bad key or date, by strictness, or by a rule.
/// Then rows with one key among themselves. Then attempts, which share their record's fate.
/// </summary>
public static class LedgerKeeper
{
    public const string Repeated = "duplicate";
    public const string Deleted = "deleted";
    public const string Corrected = "corrected";

    /// <summary>Of a quarantined row whose mended version stands in its place.</summary>
    public const string Mended = "mended";

    /// <summary>Of a mended row whose origin is no longer held: the export has been written anew since.</summary>
    public const string OriginNotHeld = "origin_not_held";

    public const string NoRecord = "attempt_without_record";
    public const string AttemptRepeated = "attempt_repeated";

    /// <summary>Of a file in which later rows take the place of more than half of its own.</summary>
    public const string RepeatedKeys = "repeated_keys";

    /// <summary>Keeps the ledger.</summary>
    /// <param name="sources">The sources in their order.</param>
    /// <param name="refused">Rows that consistency rules refuse, with the rule.</param>
    /// <param name="policy">Which of several rows with one key counts.</param>
    /// <param name="strict">True when any bad cell quarantines its row.</param>
    public static Ledger Keep(
        IReadOnlyList<IngestedSource> sources, IReadOnlyDictionary<(int Source, int Row), string> refused,
        DuplicatePolicy policy, bool strict)
    {
        var ordered = sources.ToImmutableArray();
        var fates = ordered.Select(source => new byte[source.Manifest.Rows]).ToArray();
        var rules = new Dictionary<(int, int), string>();
        var marks = new RowMarks[ordered.Length][];
        var hashes = new ulong[ordered.Length][];
        for (var s = 0; s < ordered.Length; s++)
        {
            (hashes[s], marks[s]) = Load(ordered[s]);
            Alone(ordered[s], s, marks[s], fates[s], refused, rules, strict);
        }

        var mending = Mending.Settle(ordered, WithoutMended(ordered, refused, policy, strict), hashes, fates, rules);
        var records = Enumerable.Range(0, ordered.Length).Where(s => !ordered[s].Manifest.RowsAreAttempts).ToArray();
        var repeats = ImmutableArray.CreateBuilder<(int, int)>();
        var replacedWithin = new int[ordered.Length];
        foreach (var group in Groups(ordered, hashes, records, mending))
        {
            Among(group, marks, fates, rules, repeats, policy);
            CountReplaced(group, fates, policy, replacedWithin);
        }

        var replaced = Attempts(ordered, hashes, marks, fates, rules, mending);
        return new Ledger(ordered, fates, rules, repeats.ToImmutable(), replaced)
        {
            Strays = [.. mending.Strays],
            ReplacedWithin = [.. replacedWithin],
        };
    }

    // What is held can be known only once every row has met the others, and only what is held can have been mended.
    private static Func<int, int, bool> WithoutMended(
        ImmutableArray<IngestedSource> sources, IReadOnlyDictionary<(int Source, int Row), string> refused,
        DuplicatePolicy policy, bool strict)
    {
        var exports = Enumerable.Range(0, sources.Length).Where(s => sources[s].Request.Mends is null).ToList();
        if (exports.Count == sources.Length) return (_, _) => false;
        var ledger = Keep(
            [.. exports.Select(s => sources[s])],
            refused.Where(pair => exports.Contains(pair.Key.Source))
                .ToDictionary(pair => (exports.IndexOf(pair.Key.Source), pair.Key.Row), pair => pair.Value),
            policy, strict);
        return (s, row) => ledger.Of(exports.IndexOf(s), row) == Fate.Quarantined;
    }

    private static (ulong[] Hashes, RowMarks[] Marks) Load(IngestedSource source)
    {
        var hashes = new ulong[source.Manifest.Rows];
        var marks = new RowMarks[source.Manifest.Rows];
        var row = 0;
        foreach (var block in RowIndex.Read(source.IndexPath))
        {
            block.Hash.AsSpan(0, block.Count).CopyTo(hashes.AsSpan(row));
            block.Marks.AsSpan(0, block.Count).CopyTo(marks.AsSpan(row));
            row += block.Count;
        }

        return (hashes, marks);
    }

    private static void Alone(
        IngestedSource source, int s, RowMarks[] marks, byte[] fates, IReadOnlyDictionary<(int, int), string> refused,
        Dictionary<(int, int), string> rules, bool strict)
    {
        var any = false;
        for (var row = 0; row < fates.Length; row++)
        {
            var bad = (marks[row] & RowMarks.Held) != 0 || (strict && (marks[row] & RowMarks.CellFault) != 0);
            any |= bad;
            if (bad) fates[row] = (byte)Fate.Quarantined;
        }

        if (any)
            foreach (var finding in FindingLog.Read(source.FindingsPath))
                if (finding.Row >= 0 && fates[finding.Row] == (byte)Fate.Quarantined && Refuses(finding, strict))
                    rules.TryAdd((s, finding.Row), CellRules.Id(finding.Rule));
        foreach (var ((refusedSource, row), rule) in refused)
        {
            if (refusedSource != s) continue;
            fates[row] = (byte)Fate.Quarantined;
            rules.TryAdd((s, row), rule);
        }
    }

    private static bool Refuses(CellFinding finding, bool strict) =>
        finding.Rule is not (CellRule.Implausible or CellRule.BrokenQuotes)
            && (strict || finding.Field.Length == 0 || Keys.IsKey(finding.Field));

    // A hash of 0 stands for a row without a key, or one that stands beside no other. Hashes find the few keys that repeat; the keys
    // themselves then decide, so that no accident of hashing joins two patients.
    private static List<List<(int Source, int Row)>> Groups(
        ImmutableArray<IngestedSource> sources, ulong[][] hashes, int[] among, Mending mending)
    {
        var repeated = RepeatedHashes.Find(among.Select(s => hashes[s]));
        if (repeated.Count == 0) return [];
        var groups = new Dictionary<string, List<(int, int)>>(StringComparer.Ordinal);
        foreach (var s in among)
        {
            var row = 0;
            foreach (var block in RowIndex.Read(sources[s].IndexPath))
                for (var i = 0; i < block.Count; i++, row++)
                {
                    if (!repeated.Contains(hashes[s][row])) continue;
                    var key = Encoding.UTF8.GetString(block.Key(i));
                    if (!groups.TryGetValue(key, out var rows)) groups[key] = rows = [];
                    rows.Add((s, row));
                }
        }

        foreach (var rows in groups.Values)
            if (rows.Exists(place => mending.IsMended(place.Item1)))
                rows.Sort((a, b) => mending.Place(a).CompareTo(mending.Place(b)));
        return [.. groups.Values.Where(rows => rows.Count > 1)];
    }

    private static void Among(
        List<(int Source, int Row)> rows, RowMarks[][] marks, byte[][] fates, Dictionary<(int, int), string> rules,
        ImmutableArray<(int, int)>.Builder repeats, DuplicatePolicy policy)
    {
        if (policy == DuplicatePolicy.First)
        {
            foreach (var place in rows.Skip(1))
            {
                Settle(place, Fate.Quarantined, Repeated);
                repeats.Add(place);
            }

            if (IsDeleted(rows[0])) Settle(rows[0], Fate.Withdrawn, Deleted);
            return;
        }

        var good = rows.Where(place => fates[place.Source][place.Row] == (byte)Fate.Accepted).ToList();
        if (good.Count == 0) return;
        var latest = good[^1];
        var deleted = IsDeleted(latest);
        foreach (var place in good)
            if (deleted) Settle(place, Fate.Withdrawn, Deleted);
            else if (place != latest) Settle(place, Fate.Superseded, Corrected);

        bool IsDeleted((int Source, int Row) place) =>
            (marks[place.Source][place.Row] & RowMarks.Deleted) != 0 && fates[place.Source][place.Row] == (byte)Fate.Accepted;

        void Settle((int Source, int Row) place, Fate fate, string rule)
        {
            fates[place.Source][place.Row] = (byte)fate;
            rules.TryAdd(place, rule);
        }
    }

    // A later export corrects an earlier one as a matter of course. Within one file a key that repeats is most likely no key.
    private static void CountReplaced(List<(int Source, int Row)> rows, byte[][] fates, DuplicatePolicy policy, int[] replaced)
    {
        if (policy == DuplicatePolicy.First) return;
        foreach (var within in rows.Where(place => (Fate)fates[place.Source][place.Row] != Fate.Quarantined).CountBy(place => place.Source))
            replaced[within.Key] += within.Value - 1;
    }

    private static ImmutableArray<SetAside> Attempts(
        ImmutableArray<IngestedSource> sources, ulong[][] hashes, RowMarks[][] marks, byte[][] fates,
        Dictionary<(int, int), string> rules, Mending mending)
    {
        // A key that stands alone and says deleted never met another row above.
        for (var s = 0; s < sources.Length; s++)
            if (!sources[s].Manifest.RowsAreAttempts)
                for (var row = 0; row < fates[s].Length; row++)
                    if (fates[s][row] == (byte)Fate.Accepted && (marks[s][row] & RowMarks.Deleted) != 0)
                    {
                        fates[s][row] = (byte)Fate.Withdrawn;
                        rules.TryAdd((s, row), Deleted);
                    }

        return sources.Any(source => source.Manifest.RowsAreAttempts)
            ? AttemptRows.Settle(sources, hashes, marks, fates, rules, mending.Home)
            : [];
    }
}
