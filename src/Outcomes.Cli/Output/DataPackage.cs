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
            Schema(json, TableSchemas.Of(Path.GetRelativePath(root, path).Replace('\\', '/')));
        }

        json.WriteEndObject();
    }

    private static string HashOf(string path)
    {
        using var file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    private static void Schema(Utf8JsonWriter json, TableSchema table)
    {
        json.WriteStartObject("schema");
        if (table.HasSourceColumns) json.WriteString("fieldsMatch", "subset");
        json.WriteStartArray("fields");
        foreach (var column in table.Columns)
        {
            json.WriteStartObject();
            json.WriteString("name", column.Name);
            json.WriteString("type", column.Type switch
            {
                ColumnType.Integer => "integer",
                ColumnType.Number => "number",
                _ => "string",
            });
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
