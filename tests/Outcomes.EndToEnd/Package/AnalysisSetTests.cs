using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;
using Parquet;
using CompressionCodec = Parquet.Meta.CompressionCodec;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The analysis set of the demonstration's department: against the published profile of the Data Package standard, against itself, and
/// against the counts and values of a run.
/// </summary>
public sealed class AnalysisSetTests(DemoRun demo, SharedRuns runs) : IClassFixture<DemoRun>, IAsyncLifetime
{
    private Workspace? _set;

    private Workspace Set => _set ?? throw new InvalidOperationException("The set has not been written.");

    private JsonNode Package => JsonNode.Parse(Set.Read("set", "datapackage.json"))!;

    private IEnumerable<JsonNode> Resources => Package["resources"]!.AsArray().Select(each => each!);

    public async ValueTask InitializeAsync() => _set = (await runs.Get("analysis set", Workspace.WithShippedPipelines, "export",
        "pipelines/monthly.yaml", "--out", "set")).Workspace;

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    [Fact]
    public void Its_package_is_valid_by_the_published_profile_and_lists_every_table()
    {
        Assert.Empty(Profile.Broken(Package));
        Assert.Equal(Workspace.FilesIn(Set["set"]).Select(file => file.Replace('\\', '/'))
            .Where(file => Path.GetExtension(file) is ".csv" or ".parquet").Order(StringComparer.Ordinal),
            Resources.Select(each => each["path"]!.ToString()).Order(StringComparer.Ordinal));
        Assert.Equal(Resources.Select(each => each["name"]!.ToString()).Distinct().Count(), Resources.Count());
    }

    [Fact]
    public void Every_csv_table_keeps_types_constraints_and_keys_and_has_no_empty_column()
    {
        foreach (var each in Resources.Where(each => each["format"]!.ToString() == "csv"))
        {
            var table = Csv(each["name"]!.ToString());
            Assert.True(table.Count > 0, $"{each["path"]} has no row to judge");
            Assert.Empty(TableRules.Broken(each["schema"]!, table.Columns, Rows(table)));
            if (each["name"]!.ToString() is "procedure" or "attempt" or "trace_summary")
                Assert.DoesNotContain(table.Columns, column => table.Rows.All(row => row[column].Length == 0));
        }
    }

    [Theory]
    [InlineData("procedure")]
    [InlineData("attempt")]
    [InlineData("trace_summary")]
    [InlineData("measures")]
    public async Task A_parquet_table_has_the_cells_of_its_csv_table_types_of_its_schema_and_snappy_blocks(string name)
    {
        var (csv, parquet) = (Csv(name), await ParquetTable.Read(Set["set", "parquet", name + ".parquet"]));
        Assert.Equal(csv.Columns, parquet.Select(column => column.Name));
        var types = Schema(name)["fields"]!.AsArray()
            .ToDictionary(field => field!["name"]!.ToString(), field => field!["type"]!.ToString());
        foreach (var (column, type, cells) in parquet)
        {
            Assert.Equal(types[column] is "yearmonth" ? "string" : types[column], Word(type));
            Assert.Equal(csv.Rows.Select(row => row[column]), cells.Select(cell => Shown(cell, type)));
        }

        await using var file = File.OpenRead(Set["set", "parquet", name + ".parquet"]);
        await using var reader = await ParquetReader.CreateAsync(file, cancellationToken: TestContext.Current.CancellationToken);
        Assert.All(reader.Metadata!.RowGroups.SelectMany(group => group.Columns),
            column => Assert.Equal(CompressionCodec.SNAPPY, column.MetaData!.Codec));
    }

    [Theory]
    [InlineData("attempt", 0)]
    [InlineData("trace_summary", 0)]
    [InlineData("measures", 0)]
    [InlineData("measures", 1)]
    public void A_foreign_key_leads_to_a_row(string name, int key)
    {
        var told = Schema(name)["foreignKeys"]![key]!;
        var (from, to) = (Csv(name), Csv(told["reference"]!["resource"]!.ToString()));
        var known = TableRules.Keys(told["reference"]!["fields"]!.AsArray(), to.Columns, Rows(to)).ToHashSet();
        Assert.Subset(known, TableRules.Keys(told["fields"]!.AsArray(), from.Columns, Rows(from)).ToHashSet());
    }

    [Fact]
    public void Sums_of_the_table_of_measures_are_the_counts_of_a_run_in_every_month()
    {
        var sums = Csv("measures").Rows.GroupBy(row => (row["measure"], row["month"])).ToDictionary(group => group.Key, group => (
            group.Count(row => row["met"] == "yes"), group.Count(row => row["eligible"] == "yes"),
            group.Count(row => row["missing"] == "yes")));
        var counts = CsvTable.Read(demo["tables", "counts.csv"]).Rows.Where(row => row["stratum"] == "all" && row["period"].Length == 7
            && !row["measure"].Contains('.', StringComparison.Ordinal)).ToArray();
        Assert.True(counts.Length > 2000, $"{counts.Length} counts");
        Assert.All(counts, row => Assert.Equal((Number(row["met"]), Number(row["eligible"]), Number(row["missing"])),
            sums.GetValueOrDefault((row["measure"], row["period"]))));
    }

    [Fact]
    public void Values_of_quantities_are_those_of_a_run()
    {
        var found = Csv("measures").Rows.Where(row => row["value"].Length > 0)
            .GroupBy(row => (row["measure"], row["month"], Value(row["value"])))
            .ToDictionary(group => group.Key, group => group.Count());
        var values = CsvTable.Read(demo["tables", "values.csv"]).Rows.Where(row => row["stratum"] == "all" && row["period"].Length == 7
            && row["value"].Length > 0).ToArray();
        Assert.True(values.Length > 500, $"{values.Length} values");
        Assert.All(values,
            row => Assert.Equal(Number(row["n"]), found.GetValueOrDefault((row["measure"], row["period"], Value(row["value"])))));
    }

    [Fact]
    public void An_empty_cell_has_a_reason_a_filled_one_has_none_and_a_missing_answer_names_a_field()
    {
        foreach (var name in (string[])["procedure", "attempt"])
        {
            var table = Csv(name);
            foreach (var reason in table.Columns.Where(column => column.EndsWith("_missing", StringComparison.Ordinal)))
                if (table.Columns.Contains(reason[..^"_missing".Length]))
                    Assert.All(table.Rows, row => Assert.Equal(row[reason[..^"_missing".Length]].Length == 0, row[reason].Length > 0));
        }

        var missing = Csv("measures").Rows.Where(row => row["missing"] == "yes").ToArray();
        Assert.NotEmpty(missing);
        Assert.All(missing, row => Assert.Matches("^[a-z0-9_.]+: [a-z_ ]+(; [a-z0-9_.]+: [a-z_ ]+)*$", row["why"]));
    }

    [Fact]
    public void The_codebook_for_people_and_the_one_for_programs_have_every_column_of_every_table()
    {
        var page = Set.Read("set", "codebook.html");
        var codebook = Csv("codebook").Rows.Select(row => (row["table"], row["column"])).ToArray();
        var columns = Resources.Where(each => each["format"]!.ToString() == "csv"
            && each["name"]!.ToString() is not ("codebook" or "labels"))
            .SelectMany(each => each["schema"]!["fields"]!.AsArray()
                .Select(field => (each["name"]!.ToString(), field!["name"]!.ToString())));
        Assert.Equal(columns, codebook);
        Assert.All(codebook, column => Assert.Contains($"<code>{column.Item2}</code>", page, StringComparison.Ordinal));
        Assert.Contains("Not a medical device", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        var labels = Csv("labels").Rows.ToArray();
        Assert.Contains(labels, row => (row["column"], row["value"], row["label"]) == ("location_type", "icu", "Intensive care"));
    }

    [Fact]
    public async Task The_same_records_give_the_same_bytes()
    {
        using var again = Workspace.WithShippedPipelines();
        Assert.Equal(0, (await ToolProcess.Run(again.Folder, "export", "pipelines/monthly.yaml", "--out", "set")).Exit);
        Assert.All(Workspace.FilesIn(Set["set"]), file =>
            Assert.Equal(File.ReadAllBytes(Set["set", file]), File.ReadAllBytes(again["set", file])));
    }

    private CsvTable Csv(string name) => CsvTable.Read(Set["set", name + ".csv"]);

    private JsonNode Schema(string name) => Resources.Single(each => each["name"]!.ToString() == name)["schema"]!;

    private static List<string?[]> Rows(CsvTable table) =>
        [.. table.Rows.Select(row => table.Columns.Select(name => (string?)row[name]).ToArray())];

    private static int Number(string text) => int.Parse(text, null);

    private static double Value(string text) => Math.Round(double.Parse(text, System.Globalization.CultureInfo.InvariantCulture), 6);

    private static string Shown(string? cell, Type type) => cell is null ? ""
        : type == typeof(bool) ? (cell == "true" ? "yes" : "no")
        : type == typeof(double) ? double.Parse(cell, System.Globalization.CultureInfo.InvariantCulture)
            .ToString("G12", System.Globalization.CultureInfo.InvariantCulture)
        : cell;

    private static string Word(Type type) => type == typeof(bool) ? "boolean" : type == typeof(int) ? "integer"
        : type == typeof(double) ? "number" : type == typeof(DateOnly) ? "date" : "string";
}
