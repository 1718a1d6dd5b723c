using System.Collections.Immutable;
using System.Text.Json;
using Outcomes.Ingestion;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Cli.Output;

/// <summary>
/// What the manifest of a set for others says: how many earlier sets it followed, and the measures that it could have shown with their
/// definitions, none where it does not say.
/// </summary>
internal sealed record SetManifest(
    string Pipeline, string Audience, Month Month, int Compared, ImmutableDictionary<string, string> Measures);

/// <summary>A set for others as it lies in a folder.</summary>
internal sealed record EarlierSet(string Folder, SetManifest Manifest, ImmutableArray<EarlierCell> Cells)
{
    /// <summary>The manifest of a set for others; null where the folder holds none.</summary>
    public static SetManifest? ReadManifest(string folder)
    {
        var path = Path.Combine(folder, "run.json");
        if (!File.Exists(path) || RunManifest.Read(path) is null) return null;
        using var json = JsonDocument.Parse(File.ReadAllBytes(path));
        var root = json.RootElement;
        if (!root.TryGetProperty("threshold", out _) || !Month.TryParse(root.GetProperty("month").GetString(), out var month)) return null;
        return new(root.GetProperty("pipeline").GetString()!, root.GetProperty("audience").GetString()!, month,
            root.GetProperty("earlier_reports_compared").GetInt32(), root.TryGetProperty("measures", out var measures)
                ? measures.EnumerateObject().ToImmutableDictionary(each => each.Name, each => each.Value.GetString()!)
                : ImmutableDictionary<string, string>.Empty);
    }

    /// <summary>The counts of its periods: sums over several are no period.</summary>
    /// <exception cref="Failure">They cannot be read (exit 4).</exception>
    public static EarlierSet Read(string folder, SetManifest manifest, bool exact)
    {
        var counts = Path.Combine(folder, "tables", "counts.csv");
        var cells = PublishedCounts.Read(counts, counts).Select(row => new EarlierCell(
            row.Measure, row.From, row.To, row.Stratum, row.Level, new Count(row.Met, row.Eligible, row.Missing))
        { Exact = exact })
            .ToArray();
        return new(folder, manifest, [.. cells.Where(cell => cell.Stratum != CountRow.All || !cells.Any(part => IsPart(part, cell)))]);
    }

    private static bool IsPart(EarlierCell part, EarlierCell whole) => part.Stratum == CountRow.All && part.Measure == whole.Measure
        && part.From >= whole.From && part.To <= whole.To && (part.From, part.To) != (whole.From, whole.To);
}
