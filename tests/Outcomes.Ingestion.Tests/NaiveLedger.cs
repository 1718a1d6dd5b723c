using Outcomes.Ingestion.Ledgers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>The ledger as the design tells it, key by key in plain LINQ: to check the fast one by.</summary>
internal static class NaiveLedger
{
    /// <summary>
    /// A row of a source; <paramref name="Attempt"/> is 0 where it is a record, <paramref name="Wide"/> where it carries
    /// attempts in columns.
    /// </summary>
    public sealed record Row(
        int Source, int Place, string Key, int Attempt, bool BadKey, bool BadCell, bool Deleted, bool Wide, bool Refused);

    public static (Dictionary<Row, Fate> Fates, HashSet<Row> ReplacedWide) Keep(
        IReadOnlyList<Row> rows, DuplicatePolicy policy, bool strict)
    {
        // 1. Each row alone.
        var fates =
            rows.ToDictionary(row => row, row => row.BadKey || row.Refused || (strict && row.BadCell) ? Fate.Quarantined : Fate.Accepted);

        // 2. and 3. Records with one key, and what deletion withdraws.
        foreach (var same in rows.Where(row => row.Attempt == 0 && row.Key.Length > 0).GroupBy(row => row.Key))
        {
            if (policy == DuplicatePolicy.First)
                foreach (var other in same.Skip(1)) fates[other] = Fate.Quarantined;
            var good = same.Where(row => fates[row] == Fate.Accepted).ToList();
            foreach (var row in good)
                if (good[^1].Deleted) fates[row] = Fate.Withdrawn;
                else if (row != good[^1]) fates[row] = Fate.Superseded;
        }

        // 4. Attempts: of a record that counts, those of the newest source that has any, each number once.
        var replaced = new HashSet<Row>();
        foreach (var same in rows.Where(row => row.Key.Length > 0).GroupBy(row => row.Key))
        {
            var record = same.SingleOrDefault(row => row.Attempt == 0 && fates[row] == Fate.Accepted);
            var withdrawn = same.Any(row => row.Attempt == 0 && fates[row] == Fate.Withdrawn);
            var attempts = same.Where(row => row.Attempt != 0 && fates[row] == Fate.Accepted).ToList();
            if (record is null)
            {
                foreach (var row in attempts) fates[row] = withdrawn ? Fate.Withdrawn : Fate.Quarantined;
                continue;
            }

            var newest = attempts.Select(row => row.Source).Concat(record.Wide ? [record.Source] : []).DefaultIfEmpty(-1).Max();
            foreach (var row in attempts.Where(row => row.Source != newest)) fates[row] = Fate.Superseded;
            foreach (var number in attempts.Where(row => row.Source == newest).GroupBy(row => row.Attempt))
                foreach (var row in number.Skip(1)) fates[row] = Fate.Quarantined;
            if (record.Wide && record.Source != newest) replaced.Add(record);
        }

        return (fates, replaced);
    }
}
