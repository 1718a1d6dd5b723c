using System.Globalization;
using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json.Nodes;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>
/// <c>datapackage.json</c>: every table of the set with its columns, size and hash, in the Data Package standard (version 2).
/// </summary>
public static class DataPackage
{
    /// <summary>Writes it, from the files that are there.</summary>
    /// <param name="output">The set.</param>
    /// <param name="audience">For whom the set is.</param>
    /// <param name="own">Schemas of tables whose columns only this run knows; all others are <see cref="TableSchemas"/>.</param>
    public static void Write(OutputFolder output, Audience audience, IEnumerable<TableSchema> own)
    {
        var known = own.ToDictionary(table => table.Path);
        var tables = output.Files().Where(file => Path.GetExtension(file.Path) is ".csv" or ".parquet");
        using var file = File.Create(output.PathOf("datapackage.json"));
        Write(file, output.Owner.Pipeline, audience, tables.Select(table => Resource(
            table.Bytes, "sha256:" + table.Sha256, known.GetValueOrDefault(table.Path) ?? TableSchemas.Of(table.Path), audience)));
    }

    /// <summary>Writes the description of an analysis set, from the files that are there.</summary>
    /// <param name="folder">Its folder.</param>
    /// <param name="name">The pipeline's name.</param>
    /// <param name="tables">Its tables.</param>
    public static void Write(string folder, string name, IEnumerable<TableSchema> tables) =>
        WholeFile.Write(System.IO.Path.Combine(folder, "datapackage.json"), stream => Write(stream, name, Audience.Department,
            tables.Select(table =>
            {
                var bytes = File.ReadAllBytes(System.IO.Path.Combine(folder, table.Path));
                return Resource(bytes.Length, "sha256:" + Convert.ToHexStringLower(SHA256.HashData(bytes)), table, Audience.Department);
            })));

    /// <summary>
    /// Describes the tables once for nothing, which compiles the serialiser: a run that calls it on another thread while it counts does not
    /// wait for it at its end.
    /// </summary>
    public static void Prepare()
    {
        Write(Stream.Null, "x", Audience.Department, TableSchemas.All.Select(table => Resource(0, "sha256:", table, Audience.Department)));
    }

    private static void Write(Stream stream, string name, Audience audience, IEnumerable<ResourceDescriptor> resources) =>
        // A table has no place for a stamp, so it stands beside the tables, for all and for each.
        JsonDocuments.Write(
            stream,
            new("https://datapackage.org/profiles/2.0/datapackage.json", name.ToLowerInvariant(),
                Wording.Audience(audience), [.. resources]),
            DataPackageJson.Default.DataPackageDescriptor,
            JavaScriptEncoder.UnsafeRelaxedJsonEscaping);

    private static ResourceDescriptor Resource(long bytes, string hash, TableSchema table, Audience audience)
    {
        var csv = Path.GetExtension(table.Path) == ".csv";
        return new()
        {
            Name = table.Name,
            Path = table.Path,
            Title = table.Title,
            Description = Wording.Audience(audience),
            Format = csv ? "csv" : "parquet",
            Mediatype = csv ? "text/csv" : "application/vnd.apache.parquet",
            Encoding = csv ? "utf-8" : null,
            Bytes = bytes,
            Hash = hash,
            Schema = Schema(table, csv),
        };
    }

    private static SchemaDescriptor Schema(TableSchema table, bool csv) => new()
    {
        Description = table.Description,
        Fields = [.. table.Columns.Select(column => Field(column, csv))],
        // In Parquet a cell without a value is null: no text stands for it.
        MissingValues = csv ? null : [],
        LostMissingValues = table.LostWords.IsEmpty
            ? null
            : [.. table.LostWords.Select(word => new MissingWordDescriptor(word.Word, Word(word.Reason)))],
        PrimaryKey = table.Key.IsEmpty ? null : table.Key,
        ForeignKeys = table.Refers is null ? null : [.. new[] { table.Refers, table.RefersToo }.OfType<TableReference>()
            .Select(to => new ForeignKeyDescriptor(to.Columns, new ReferenceDescriptor(to.Table, to.Key)))],
    };

    private static FieldDescriptor Field(ColumnSchema column, bool csv)
    {
        var words = csv && column.Type == ColumnType.YesNo;
        return new()
        {
            Name = column.Name,
            Title = column.Title,
            Type = Word(column.Type),
            Description = column.Description,
            TrueValues = words ? ["yes"] : null,
            FalseValues = words ? ["no"] : null,
            Constraints = Constraints(column),
            Categories = column.Labels.IsEmpty ? null
                : [.. column.Allowed.Zip(column.Labels, (value, label) => new CategoryDescriptor(value, label))],
            Unit = column.Unit,
            Sql = column.Sql,
        };
    }

    private static ConstraintsDescriptor? Constraints(ColumnSchema column) =>
        column is { Required: false, Minimum: null, Maximum: null, Pattern: null, Allowed.IsEmpty: true } ? null : new()
        {
            Required = column.Required ? true : null,
            Minimum = End(column, column.Minimum),
            Maximum = End(column, column.Maximum),
            Pattern = column.Pattern,
            Enum = column.Allowed.IsEmpty ? null : column.Allowed,
        };

    private static JsonValue? End(ColumnSchema column, decimal? end) => end switch
    {
        null => null,
        { } day when column.Type == ColumnType.Date =>
            JsonValue.Create(DateOnly.FromDayNumber((int)day).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        { } number => JsonValue.Create(number),
    };

    private static string Word(ColumnType type) => type switch
    {
        ColumnType.Integer => "integer",
        ColumnType.Number => "number",
        ColumnType.YesNo => "boolean",
        ColumnType.Date => "date",
        ColumnType.Month => "yearmonth",
        _ => "string",
    };

    private static string Word(MissingReason reason) => reason switch
    {
        MissingReason.Blank => "blank",
        MissingReason.NotRecorded => "not_recorded",
        MissingReason.Unknown => "unknown",
        MissingReason.Withheld => "withheld",
        MissingReason.NotApplicable => "not_applicable",
        MissingReason.Unrecordable => "unrecordable",
        _ => "invalid",
    };
}
