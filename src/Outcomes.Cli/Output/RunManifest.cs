using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;

namespace Outcomes.Cli.Output;

/// <summary>
/// <c>run.json</c>: what went in, by which definitions, and how it reconciles. Only its timings differ between equal runs.
/// </summary>
public static class RunManifest
{
    private const string Kind = "outcomes run manifest";

    /// <summary>Writes the manifest, the last file of a set.</summary>
    public static void Write(string path, RunFacts facts) => JsonDocuments.Write(path, new RunDocument(
        Kind, 1, $"outcomes {facts.Version}", facts.Pipeline, facts.AsOf, facts.Month?.ToString(), "department", facts.DefinitionsHash,
        facts.Complete, [.. facts.Sources.Select(Input)])
    {
        Capture = facts.Capture is { } capture ? new FileDocument(capture.File, capture.Sha256) : null,
        Cases = facts.Review.IsEmpty ? null : Cases(facts.Review),
        Reconciliation = [.. facts.Ledger.Files.Append(facts.Ledger.Total).Select(sums => new ReconciliationDocument(
            sums.File, sums.RowsIn, sums.Accepted, sums.Superseded, sums.Withdrawn, sums.Quarantined))],
        TimingsMs = [.. facts.Timings.Select(timing => KeyValuePair.Create(timing.Stage, (JsonNode?)timing.Milliseconds))],
    }, ManifestJson.Default.RunDocument);

    /// <summary>
    /// The manifest of a set for others: the rule and the definitions, and nothing of the files that went in. By the hash of a file one who
    /// knows all of it but a cell would try the cell's values.
    /// </summary>
    public static void WriteShared(string path, SharedFacts facts) => JsonDocuments.Write(path, new SharedDocument(
        Kind, 1, $"outcomes {Tool.Version}", facts.Pipeline, facts.AsOf, facts.Month.ToString(), facts.Audience, facts.Threshold,
        facts.RoundTo, facts.Compared, facts.DefinitionsHash, facts.Measures.ToImmutableSortedDictionary(
            measure => measure.Id, SharedCounts.Definition, StringComparer.Ordinal), Complete: true), ManifestJson.Default.SharedDocument);

    /// <summary>The manifest of a run that refused a whole file.</summary>
    public static void WriteRefused(string path, string pipeline, Failure refusal) => JsonDocuments.Write(path, new RefusedDocument(
        Kind, 1, $"outcomes {Tool.Version}", pipeline, Complete: false, refusal.File, refusal.Rule), ManifestJson.Default.RefusedDocument);

    /// <summary>The audience that a manifest names; null where it is not ours.</summary>
    public static string? AudienceOf(string path)
    {
        if (!IsOurs(path)) return null;
        using var json = JsonDocument.Parse(File.ReadAllBytes(path));
        return json.RootElement.TryGetProperty("audience", out var audience) ? audience.GetString() : null;
    }

    /// <summary>The month of a manifest for the department of a pipeline, as it says it; null where it is another.</summary>
    public static string? DepartmentMonth(string path, string pipeline)
    {
        if (!File.Exists(path) || AudienceOf(path) != "department") return null;
        using var json = JsonDocument.Parse(File.ReadAllBytes(path));
        return json.RootElement.TryGetProperty("pipeline", out var name) && name.GetString() == pipeline
            && json.RootElement.TryGetProperty("month", out var month) ? month.GetString() : null;
    }

    /// <summary>True when the file is a manifest that this tool wrote.</summary>
    public static bool IsOurs(string path)
    {
        try
        {
            using var json = JsonDocument.Parse(File.ReadAllBytes(path));
            return json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty("kind", out var kind)
                && kind.GetString() == Kind;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
        {
            return false;
        }
    }

    private static InputDocument Input(IngestedSource source)
    {
        var manifest = source.Manifest;
        return new(source.Request.Name, source.Request.File, manifest.Sha256, manifest.Rows, manifest.BlankRows)
        {
            OutsideRows = manifest.OutsideRows > 0 || source.Request.Mends is not null ? manifest.OutsideRows : null,
            ColumnsChecked = [.. manifest.Checked.Select(column => column + 1)],
            RulesLifted = manifest.Checked.IsEmpty
                ? null
                : [.. manifest.CheckedRules.Select(rules => rules.Length == 0 ? ["all"] : rules.Split(' '))],
        };
    }

    private static JsonObject Cases(ImmutableArray<ReviewCount> review)
    {
        var cases = new JsonObject { ["file"] = "cases.html", ["key"] = "case-key.csv" };
        foreach (var count in review) cases.Add(CaseKinds.Word(count.Kind), count.Cases);
        cases.Add("late", review.Sum(count => count.Late));
        return cases;
    }
}

/// <summary>What the manifest states.</summary>
public sealed record RunFacts(
    string Version, string Pipeline, DateOnly AsOf, Month? Month, string DefinitionsHash, bool Complete,
    IReadOnlyList<IngestedSource> Sources, Ledger Ledger, IReadOnlyList<(string Stage, long Milliseconds)> Timings)
{
    public IndependentCounts? Capture { get; init; }

    /// <summary>New cases for review by kind; empty where none were made.</summary>
    public ImmutableArray<ReviewCount> Review { get; init; } = [];
}

/// <summary>What the manifest of a set for others states.</summary>
public sealed record SharedFacts(
    string Pipeline, DateOnly AsOf, Month Month, string Audience, int Threshold, int RoundTo, int Compared, string DefinitionsHash,
    ImmutableArray<Measure> Measures);
