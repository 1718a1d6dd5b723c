using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;
using Outcomes.Analysis;
using Outcomes.Reporting;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>
/// <c>datapackage.json</c>: every table of the set with its columns, size and hash, in the Data Package standard (version 2).
/// </summary>
public static class DataPackage
{
    private static readonly HashSet<string> Integers = new(StringComparer.Ordinal)
    {
        "met", "eligible", "missing", "n", "points", "useful", "longest_run", "run_limit", "crossings", "crossings_limit", "line",
        "records", "counted", "months_counted", "rows", "events", "observed", "cases", "days", "levels", "degrees",
        "numerator", "denominator", "agree",
    };

    private static readonly HashSet<string> Numbers = new(StringComparer.Ordinal)
    {
        "lower", "upper", "level_pct", "median", "false_alarm", "expected", "cumulative", "quantile", "coverage_pct", "cusum",
        "cusum_limit", "statistic", "p_value", "log_odds", "limit", "log_odds_given_case_mix", "centre", "variation", "agreement",
        "by_chance"
    };

    public static void Write(OutputFolder output, string name, Audience audience)
    {
        using var file = File.Create(output.PathOf("datapackage.json"));
        using var json = new Utf8JsonWriter(file,
            new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("$schema", "https://datapackage.org/profiles/2.0/datapackage.json");
        json.WriteString("name", name.ToLowerInvariant());
        // A table has no place for a stamp, so it stands beside the tables, for all and for each.
        json.WriteString("description", Wording.Audience(audience));
        json.WriteStartArray("resources");
        foreach (var path in Directory.EnumerateFiles(output.Path, "*.*", SearchOption.AllDirectories)
                     .Where(path => Path.GetExtension(path) is ".csv" or ".parquet").Order(StringComparer.Ordinal))
            Resource(json, output.Path, path, audience);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Resource(Utf8JsonWriter json, string root, string path, Audience audience)
    {
        var csv = Path.GetExtension(path) == ".csv";
        json.WriteStartObject();
        json.WriteString("name", Path.GetFileNameWithoutExtension(path));
        json.WriteString("path", Path.GetRelativePath(root, path).Replace('\\', '/'));
        json.WriteString("description", Wording.Audience(audience));
        json.WriteString("format", csv ? "csv" : "parquet");
        json.WriteString("mediatype", csv ? "text/csv" : "application/vnd.apache.parquet");
        if (csv) json.WriteString("encoding", "utf-8");
        json.WriteNumber("bytes", new FileInfo(path).Length);
        json.WriteString("hash", "sha256:" + HashOf(path));
        if (csv)
        {
            json.WriteString("type", "table");
            Schema(json, Path.GetFileName(path), Columns(path));
        }

        json.WriteEndObject();
    }

    private static string HashOf(string path)
    {
        using var file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    // The tables' own headings; a quarantine file has the source's columns behind the first three.
    private static string[] Columns(string path) => Path.GetFileName(path) switch
    {
        "counts.csv" => [.. OutputTables.CountsColumns],
        "values.csv" => [.. OutputTables.ValuesColumns],
        "estimates.csv" => [.. OutputTables.EstimatesColumns],
        "runcharts.csv" => [.. OutputTables.RunChartsColumns],
        "signals.csv" => [.. OutputTables.SignalsColumns],
        "change_odds.csv" => [.. OutputTables.ChangeOddsColumns],
        "case-key.csv" => [.. OutputTables.CaseKeyColumns],
        "findings.csv" => [.. OutputTables.FindingsColumns],
        "capture.csv" => [.. OutputTables.CaptureColumns],
        "casemix.csv" => [.. CaseMixTables.ModelColumns],
        "expected.csv" => [.. CaseMixTables.ExpectedColumns],
        "rare_events.csv" => [.. RareEventsTable.Columns],
        "controlcharts.csv" => [.. ControlChartsTable.Columns],
        "agreement.csv" => [.. AgreementTable.Columns],
        "funnel.csv" => [.. FunnelTable.Columns],
        "quantities.csv" => [.. QuantitiesTable.Columns],
        "strata.csv" => [.. StrataTables.Columns],
        "comparisons.csv" => [.. StrataTables.ComparisonColumns],
        "changes.csv" => [.. ChangeTable.Columns],
        "ledger.csv" => [.. OutputTables.LedgerColumns],
        _ => ["origin", "line", "reasons"],
    };

    private static void Schema(Utf8JsonWriter json, string file, string[] columns)
    {
        json.WriteStartObject("schema");
        if (file == "quarantine.csv") json.WriteString("fieldsMatch", "subset");
        json.WriteStartArray("fields");
        foreach (var column in columns)
        {
            json.WriteStartObject();
            json.WriteString("name", column);
            json.WriteString("type", Type(file, column));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static string Type(string file, string column) =>
        column == "value" ? file == "values.csv" ? "integer" : "number"
        : column == "tested" ? "string"
        : Integers.Contains(column) ? "integer"
        : Numbers.Contains(column) ? "number"
        : "string";
}
