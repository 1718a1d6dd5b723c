using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>
/// The case packs of earlier months, found in the folders beside an output folder that is named by its month: <c>2026-01</c> and
/// <c>2026-02</c> beside <c>2026-03</c>. They say which cases a meeting has had, so that a record that came late is new once, in the
/// next month's pack.
/// </summary>
/// <param name="Keys">Their keys, by month.</param>
public sealed record EarlierPacks(ImmutableArray<(Month Month, string Path)> Keys)
{
    public static readonly EarlierPacks None = new([]);

    private IEnumerable<Month> Months => [.. Keys.Select(key => key.Month)];

    /// <summary>
    /// Those beside a folder: ours, of the same pipeline, for the department, of the month that their folder is named by, with their key.
    /// </summary>
    public static EarlierPacks Beside(string outFolder, string pipeline, Month month)
    {
        var folder = Path.TrimEndingDirectorySeparator(Path.GetFullPath(outFolder));
        if (Path.GetFileName(folder) != month.ToString() || Path.GetDirectoryName(folder) is not { } parent || !Directory.Exists(parent))
            return None;
        var keys = ImmutableArray.CreateBuilder<(Month Month, string Path)>();
        foreach (var each in Directory.EnumerateDirectories(parent))
            if (Month.TryParse(Path.GetFileName(each), out var named) && named < month && File.Exists(KeyOf(each))
                && RunManifest.DepartmentMonth(Path.Combine(each, "run.json"), pipeline) == named.ToString())
                keys.Add((named, KeyOf(each)));
        return new([.. keys.OrderBy(key => key.Month)]);
    }

    // Which records have come with a page, and as what at the highest.
    private Dictionary<string, CaseKind> Seen() =>
        Keys.SelectMany(key => PublishedKey.Read(key.Path, $"{key.Month}/case-key.csv"))
            .Select(row => (row.RecordId, Kind: CaseKinds.Of(row.Kind)))
            .Where(row => row.Kind is { } kind && CaseKinds.HasPage(kind)).GroupBy(row => row.RecordId, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Min(row => row.Kind!.Value), StringComparer.Ordinal);

    /// <summary>What they held.</summary>
    /// <exception cref="Failure">A key cannot be read (exit 4).</exception>
    public EarlierReviews Reviews() => Keys.IsEmpty ? EarlierReviews.None : new([.. Months], Seen());

    private static string KeyOf(string folder) => Path.Combine(folder, "case-key.csv");
}
