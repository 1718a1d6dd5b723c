using System.Text.Json;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>
/// <c>run.json</c>: what went in, by which definitions, and how it reconciles. Only its timings differ between equal runs.
/// </summary>
public static class RunManifest
{
    private const string Kind = "outcomes run manifest";

    /// <summary>Writes the manifest, the last file of a set.</summary>
    public static void Write(string path, RunFacts facts)
    {
        using var file = File.Create(path);
        using var json = new Utf8JsonWriter(file, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteString("kind", Kind);
        json.WriteNumber("version", 1);
        json.WriteString("tool", $"outcomes {facts.Version}");
        json.WriteString("pipeline", facts.Pipeline);
        json.WriteString("as_of", facts.AsOf.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        json.WriteString("month", facts.Month?.ToString());
        json.WriteString("audience", "department");
        json.WriteString("definitions_sha256", facts.DefinitionsHash);
        json.WriteBoolean("complete", facts.Complete);
        json.WriteStartArray("inputs");
        foreach (var source in facts.Sources)
        {
            json.WriteStartObject();
            json.WriteString("name", source.Request.Name);
            json.WriteString("file", source.Request.File);
            json.WriteString("sha256", source.Manifest.Sha256);
            json.WriteNumber("rows", source.Manifest.Rows);
            json.WriteNumber("blank_rows", source.Manifest.BlankRows);
            if (source.Manifest.OutsideRows > 0 || source.Request.Mends is not null)
                json.WriteNumber("outside_rows", source.Manifest.OutsideRows);
            json.WriteStartArray("columns_checked");
            foreach (var column in source.Manifest.Checked) json.WriteNumberValue(column + 1);
            json.WriteEndArray();
            if (source.Manifest.Checked.Length > 0) Lifted(json, source.Manifest);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (facts.Capture is { } capture)
        {
            json.WriteStartObject("capture");
            json.WriteString("file", capture.File);
            json.WriteString("sha256", capture.Sha256);
            json.WriteEndObject();
        }

        if (!facts.Review.IsEmpty)
        {
            json.WriteStartObject("cases");
            json.WriteString("file", "cases.html");
            json.WriteString("key", "case-key.csv");
            foreach (var count in facts.Review) json.WriteNumber(CaseKinds.Word(count.Kind), count.Cases);
            json.WriteNumber("late", facts.Review.Sum(count => count.Late));
            json.WriteEndObject();
        }

        json.WriteStartArray("reconciliation");
        foreach (var sums in facts.Ledger.Files.Append(facts.Ledger.Total))
        {
            json.WriteStartObject();
            json.WriteString("file", sums.File);
            json.WriteNumber("rows_in", sums.RowsIn);
            json.WriteNumber("accepted", sums.Accepted);
            json.WriteNumber("superseded", sums.Superseded);
            json.WriteNumber("withdrawn", sums.Withdrawn);
            json.WriteNumber("quarantined", sums.Quarantined);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartObject("timings_ms");
        foreach (var (stage, milliseconds) in facts.Timings) json.WriteNumber(stage, milliseconds);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    // For each checked column the rules that are lifted; "all" where the mapping names none.
    private static void Lifted(Utf8JsonWriter json, SourceManifest manifest)
    {
        json.WriteStartArray("rules_lifted");
        foreach (var rules in manifest.CheckedRules)
        {
            json.WriteStartArray();
            foreach (var rule in rules.Length == 0 ? ["all"] : rules.Split(' ')) json.WriteStringValue(rule);
            json.WriteEndArray();
        }

        json.WriteEndArray();
    }

    /// <summary>The manifest of a set for others: hashes and the rule, no names of files and no numbers of rows.</summary>
    public static void WriteShared(string path, SharedFacts facts)
    {
        using var file = File.Create(path);
        using var json = new Utf8JsonWriter(file, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteString("kind", Kind);
        json.WriteNumber("version", 1);
        json.WriteString("tool", $"outcomes {Tool.Version}");
        json.WriteString("pipeline", facts.Pipeline);
        json.WriteString("as_of", facts.AsOf.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        json.WriteString("month", facts.Month.ToString());
        json.WriteString("audience", facts.Audience);
        json.WriteNumber("threshold", facts.Threshold);
        json.WriteNumber("rounded_to", facts.RoundTo);
        json.WriteNumber("earlier_reports_compared", facts.Compared);
        json.WriteString("definitions_sha256", facts.DefinitionsHash);
        json.WriteBoolean("complete", true);
        json.WriteStartArray("inputs");
        foreach (var hash in facts.Inputs) json.WriteStringValue(hash);
        json.WriteEndArray();
        json.WriteEndObject();
    }

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

    /// <summary>The manifest of a run that refused a whole file.</summary>
    public static void WriteRefused(string path, string pipeline, Failure refusal)
    {
        using var file = File.Create(path);
        using var json = new Utf8JsonWriter(file, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteString("kind", Kind);
        json.WriteNumber("version", 1);
        json.WriteString("tool", $"outcomes {Tool.Version}");
        json.WriteString("pipeline", pipeline);
        json.WriteBoolean("complete", false);
        json.WriteString("refused", refusal.File);
        json.WriteString("rule", refusal.Rule);
        json.WriteEndObject();
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
}

/// <summary>What the manifest states.</summary>
public sealed record RunFacts(
    string Version, string Pipeline, DateOnly AsOf, Month? Month, string DefinitionsHash, bool Complete,
    IReadOnlyList<IngestedSource> Sources, Ledger Ledger, IReadOnlyList<(string Stage, long Milliseconds)> Timings)
{
    /// <summary>What a run states: definitions, inputs, reconciliation, timings.</summary>
    public static RunFacts Of(AnalysisPlan plan, CheckedRecords records, IReadOnlyList<(string Stage, long Milliseconds)> timings) => new(
        Tool.Version, plan.Name, plan.AsOf, plan.Month, plan.Definitions.Hash, records.IsTolerated,
        [.. records.Sources, .. records.Traces?.Traces ?? []], records.Ledger, timings);

    public IndependentCounts? Capture { get; init; }

    /// <summary>New cases for review by kind; empty where none were made.</summary>
    public System.Collections.Immutable.ImmutableArray<ReviewCount> Review { get; init; } = [];
}

/// <summary>What the manifest of a set for others states.</summary>
public sealed record SharedFacts(
    string Pipeline, DateOnly AsOf, Month Month, string Audience, int Threshold, int RoundTo, int Compared, string DefinitionsHash,
    IEnumerable<string> Inputs);
