using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>
/// Rows that a person took out of a quarantine file, mended and fed back. A mended row stands where its origin stood, good or
/// still bad, and the origin is superseded: so a later export still corrects it, and a row fed back as it was changes nothing.
/// </summary>
internal sealed class Mending
{
    private readonly ImmutableArray<IngestedSource> _sources;
    private readonly Dictionary<(int Source, int Row), (int Source, int Row)> _origin = [];

    private Mending(ImmutableArray<IngestedSource> sources)
    {
        _sources = sources;
        Home = [.. sources.Select((source, s) => source.Request.Mends is { } mends ? IndexOf(sources, mends.Order) : s)];
    }

    /// <summary>For each source the one whose rows it holds: itself, or the origin of what was mended.</summary>
    public ImmutableArray<int> Home { get; }

    /// <summary>Mended rows whose origin is no longer there to be mended.</summary>
    public List<(int Source, int Row)> Strays { get; } = [];

    public bool IsMended(int source) => Home[source] != source;

    /// <summary>Where a row stands among rows with its key. A stray stands before its file: whatever the file says now is newer.</summary>
    public (int Source, int Row, int Turn) Place((int Source, int Row) row) =>
        !IsMended(row.Source) ? (row.Source, row.Row, 0)
        : _origin.TryGetValue(row, out var origin) ? (origin.Source, origin.Row, 1)
        : (Home[row.Source], -1, row.Row);

    /// <summary>
    /// Lets each mended row take its origin's place. A superseded row loses its key's hash: it stands beside no other row.
    /// </summary>
    public static Mending Settle(ImmutableArray<IngestedSource> sources, Func<int, int, bool> held, ulong[][] hashes, byte[][] fates,
        Dictionary<(int, int), string> rules)
    {
        var mending = new Mending(sources);
        for (var s = 0; s < sources.Length; s++)
            if (mending.IsMended(s))
                mending.SettleFile(s, held, hashes, fates, rules);
        return mending;
    }

    private void SettleFile(int s, Func<int, int, bool> held, ulong[][] hashes, byte[][] fates, Dictionary<(int, int), string> rules)
    {
        var home = Home[s];
        var lines = OriginLines.Read(_sources[s].OriginsPath);
        var wanted = lines.ToHashSet();
        var (places, asked) = Asked(_sources[home], wanted);
        var before = Cells(home, asked);
        var after = Cells(s, [.. Enumerable.Range(0, lines.Length)]);
        var taken = new Dictionary<int, int>();
        for (var row = 0; row < lines.Length; row++)
        {
            if (!places.TryGetValue(lines[row], out var origin) || !held(home, origin) || !Stands(home, before[origin], s, after[row]))
            {
                Strays.Add((s, row));
                continue;
            }

            // The cells of a ragged row say nothing of their own: filled up with blanks it would fit its heading and mean something else.
            var ragged = before[origin].Length != _sources[home].Manifest.Headings.Length
                && Same(home, before[origin], s, after[row], keysToo: true);
            if (ragged)
            {
                // Nor does its key: like its origin it stands beside no other row.
                Set((s, row), Fate.Quarantined, CellRules.Id(CellRule.RaggedRow));
                hashes[s][row] = 0;
            }

            if (taken.TryGetValue(origin, out var earlier)) Supersede((s, earlier));
            Supersede((home, origin));
            taken[origin] = row;
            _origin[(s, row)] = (home, origin);
        }

        void Supersede((int Source, int Row) place)
        {
            Set(place, Fate.Superseded, LedgerKeeper.Mended);
            hashes[place.Source][place.Row] = 0;
        }

        void Set((int Source, int Row) place, Fate fate, string rule)
        {
            fates[place.Source][place.Row] = (byte)fate;
            rules[place] = rule;
        }
    }

    // An export may have been written anew since: the held row at that line is the origin only if it has the same key (or never
    // had a sure one), or if all but its key is as it was.
    private bool Stands(int home, string[] before, int s, string[] after) =>
        before.Length != _sources[home].Manifest.Headings.Length || KeyOf(home, before) is "" || KeyOf(home, before) == KeyOf(s, after)
            || Same(home, before, s, after, keysToo: false);

    private string KeyOf(int s, string[] cells)
    {
        var heading = _sources[s].Request.Mapping.Columns.First(column => column.Field == Keys.RecordId).Column;
        var at = _sources[s].Manifest.Headings.IndexOf(heading, IsMended(s) ? MendedFile.Columns.Length : 0);
        return at < cells.Length ? cells[at] : "";
    }

    private bool Same(int home, string[] before, int s, string[] after, bool keysToo)
    {
        var headings = _sources[home].Manifest.Headings;
        var keys = _sources[home].Request.Mapping.Columns.Where(column => column.Field is Keys.RecordId or Keys.AttemptNo)
            .Select(column => column.Column).ToHashSet(StringComparer.Ordinal);
        for (var i = 0; i < headings.Length; i++)
        {
            if (!keysToo && keys.Contains(headings[i])) continue;
            var at = _sources[s].Manifest.Headings.IndexOf(headings[i], MendedFile.Columns.Length);
            if (at >= 0 && (i < before.Length ? before[i] : "") != (at < after.Length ? after[at] : "")) return false;
        }

        return true;
    }

    private static (Dictionary<int, int> RowAtLine, HashSet<int> Rows) Asked(IngestedSource source, HashSet<int> lines)
    {
        var places = new Dictionary<int, int>();
        var row = 0;
        foreach (var block in RowIndex.Read(source.IndexPath))
            for (var i = 0; i < block.Count; i++, row++)
                if (lines.Contains(block.Line[i])) places[block.Line[i]] = row;
        return (places, [.. places.Values]);
    }

    private Dictionary<int, string[]> Cells(int s, HashSet<int> rows) =>
        Quarantine.Rows(_sources[s], s, rows.Contains).ToDictionary(row => row.Row, row => row.Cells.Select(cell => cell.Trim()).ToArray());

    private static int IndexOf(ImmutableArray<IngestedSource> sources, int order) =>
        sources.TakeWhile(source => source.Request.Order != order).Count();
}
