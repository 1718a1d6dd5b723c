using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Outcomes.Analysis;
using Outcomes.Cli.Places;
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
    public static void Write(OutputFolder output, RunFacts facts) => Write(output, new RunDocument(
        Kind, 1, $"outcomes {facts.Version}", facts.Pipeline, output.Owner.PipelineId, facts.AsOf, facts.Month?.ToString(),
        output.Owner.Audience, facts.DefinitionsHash, facts.Complete, [.. facts.Sources.Select(Input)])
    {
        Capture = facts.Capture is { } capture ? new FileDocument(capture.File, capture.Sha256) : null,
        Cases = facts.Review.IsEmpty ? null : Cases(facts.Review),
        Reconciliation = [.. facts.Ledger.Files.Append(facts.Ledger.Total).Select(sums => new ReconciliationDocument(
            sums.File, sums.RowsIn, sums.Accepted, sums.Superseded, sums.Withdrawn, sums.Quarantined))],
        Flow = facts.Flow is var (period, flow)
            ? new FlowDocument(
                period, flow.Recorded, flow.NotEmergency, flow.UnderSixteen, flow.NoAttempt, flow.NotKnown, flow.Analysed)
            : null,
        Files = output.Files(),
        TimingsMs = [.. facts.Timings.Select(timing => KeyValuePair.Create(timing.Stage, (JsonNode?)timing.Milliseconds))],
    }, ManifestJson.Default.RunDocument);

    /// <summary>
    /// The manifest of a set for others: the rule and the definitions, and nothing of the files that went in. By the hash of a file one who
    /// knows all of it but a cell would try the cell's values.
    /// </summary>
    public static void WriteShared(OutputFolder output, SharedFacts facts) => Write(output, new SharedDocument(
        Kind, 1, $"outcomes {Tool.Version}", facts.Pipeline, output.Owner.PipelineId, facts.AsOf, facts.Month.ToString(), facts.Audience,
        facts.Threshold, facts.RoundTo, facts.Compared, facts.DefinitionsHash, facts.Measures.ToImmutableSortedDictionary(
            measure => measure.Id, SharedCounts.Definition, StringComparer.Ordinal), Complete: true, output.Files()),
        ManifestJson.Default.SharedDocument);

    /// <summary>The manifest of a run that refused a whole file.</summary>
    public static void WriteRefused(OutputFolder output, Failure refusal) => Write(output, new RefusedDocument(
        Kind, 1, $"outcomes {Tool.Version}", output.Owner.Pipeline, output.Owner.PipelineId, output.Owner.Audience, Complete: false,
        refusal.File, refusal.Rule, output.Files()), ManifestJson.Default.RefusedDocument);

    /// <summary>The audience that a manifest names; null where it is not ours.</summary>
    public static string? AudienceOf(string path) => Read(path)?.Audience;

    /// <summary>The month of a manifest for the department of a pipeline, as it says it; null where it is another.</summary>
    public static string? DepartmentMonth(string path, string pipeline) =>
        Read(path) is { Audience: "department" } facts && facts.Pipeline == pipeline ? facts.Month : null;

    /// <summary>What a manifest says of its set; null where the file is none that this tool wrote.</summary>
    public static ManifestFacts? Read(string path)
    {
        try
        {
            using var json = JsonDocument.Parse(File.ReadAllBytes(path));
            var root = json.RootElement;
            if (Text("kind") != Kind) return null;
            var files = root.TryGetProperty("files", out var list) ? list.EnumerateArray().Select(Listed) : [];
            return new(Text("pipeline"), Text("pipeline_id"), Text("audience"), Text("month"),
                files.ToDictionary(file => file.Path, StringComparer.Ordinal));

            string? Text(string name) => root.TryGetProperty(name, out var text) ? text.GetString() : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException
            or ArgumentException or FormatException or KeyNotFoundException)
        {
            return null;
        }
    }

    private static void Write<T>(OutputFolder output, T document, JsonTypeInfo<T> type) =>
        JsonDocuments.Write(output.PathOf(StandingSet.ManifestName), document, type);

    private static ListedFile Listed(JsonElement file) => new(
        file.GetProperty("path").GetString() ?? "", file.GetProperty("bytes").GetInt64(), file.GetProperty("sha256").GetString() ?? "");

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

    /// <summary>Who is counted, and in which period; null where that was not asked.</summary>
    public (string Period, Flow Flow)? Flow { get; init; }

    /// <summary>New cases for review by kind; empty where none were made.</summary>
    public ImmutableArray<ReviewCount> Review { get; init; } = [];
}

/// <summary>What the manifest of a set for others states.</summary>
public sealed record SharedFacts(
    string Pipeline, DateOnly AsOf, Month Month, string Audience, int Threshold, int RoundTo, int Compared, string DefinitionsHash,
    ImmutableArray<Measure> Measures);

/// <summary>What a manifest says of its set: null what it does not say.</summary>
/// <param name="Pipeline">The pipeline's name.</param>
/// <param name="PipelineId">What tells it from another of the same name.</param>
/// <param name="Audience">For whom the set is.</param>
/// <param name="Month">The report month.</param>
/// <param name="Files">Every file of the set but the manifest, by its path.</param>
public sealed record ManifestFacts(
    string? Pipeline, string? PipelineId, string? Audience, string? Month, IReadOnlyDictionary<string, ListedFile> Files);
