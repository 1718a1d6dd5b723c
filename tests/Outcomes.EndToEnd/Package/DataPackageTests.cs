using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// datapackage.json against the published profile of the standard (Data Package, version 2; tests/fixtures/datapackage), and against the
/// files that it describes.
/// </summary>
public sealed class DataPackageTests(DemoRun demo, SharedRuns runs) : IClassFixture<DemoRun>
{
    private JsonNode Package => JsonNode.Parse(File.ReadAllText(demo["datapackage.json"]))!;

    [Fact]
    public void The_package_of_the_demonstration_is_valid_by_the_published_profile() => Assert.Empty(Profile.Broken(Package));

    [Theory]
    [InlineData("/resources")]
    [InlineData("/resources/0/name")]
    [InlineData("/resources/0/bytes", "\"many\"")]
    [InlineData("/resources/0/hash", "\"sha256:not hexadecimal\"")]
    [InlineData("/resources/0/mediatype", "\"csv\"")]
    [InlineData("/resources/0/schema/fields", "[]")]
    [InlineData("/resources/0/schema/fields/0/type", "\"decimal\"")]
    [InlineData("/resources/0/schema/fields/0/constraints/required", "\"yes\"")]
    [InlineData("/resources/0/schema/primaryKey", "7")]
    [InlineData("/resources/1/schema/foreignKeys/0/reference", "\"records\"")]
    [InlineData("/resources/1/schema/missingValues", "\"NA\"")]
    public void A_package_with_one_part_broken_is_refused(string place, string? value = null)
    {
        var package = Package;
        var steps = place.Split('/')[1..];
        var owner = steps[..^1].Aggregate(package, (node, step) => int.TryParse(step, out var at) ? node[at]! : node[step]!);
        Assert.True(owner.AsObject().Remove(steps[^1]), $"{place} is not there to be broken");
        if (value is not null)
            owner[steps[^1]] = JsonNode.Parse(value);
        Assert.NotEmpty(Profile.Broken(package));
    }

    [Theory]
    [InlineData("network")]
    [InlineData("public")]
    public async Task The_package_of_a_set_for_others_is_valid_and_lists_its_two_tables(string audience)
    {
        var run = await runs.Get($"package for {audience}", () =>
        {
            var workspace = TinyPipeline.Create();
            workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + $"audience: {audience}\n");
            return workspace;
        }, "run", "pipeline.yaml", "--out", "out");
        var package = JsonNode.Parse(run.Workspace.Read("out", "datapackage.json"))!;
        Assert.Empty(Profile.Broken(package));
        Assert.Equal(["tables/counts.csv", "tables/estimates.csv"], Resources(package).Select(each => each["path"]!.ToString()));
    }

    [Fact]
    public void Every_table_of_the_set_is_listed_with_its_size_and_hash()
    {
        var root = Path.GetDirectoryName(demo["datapackage.json"])!;
        var files = Workspace.FilesIn(root).Select(file => file.Replace('\\', '/'))
            .Where(file => Path.GetExtension(file) is ".csv" or ".parquet").Order(StringComparer.Ordinal);
        Assert.Equal(files, Resources(Package).Select(each => each["path"]!.ToString()));
        Assert.All(Resources(Package), each =>
        {
            var bytes = File.ReadAllBytes(demo[each["path"]!.ToString().Split('/')]);
            Assert.Equal(bytes.Length, each["bytes"]!.GetValue<long>());
            Assert.Equal("sha256:" + Convert.ToHexStringLower(SHA256.HashData(bytes)), each["hash"]!.ToString());
        });
    }

    [Fact]
    public void Every_csv_table_keeps_the_types_constraints_and_keys_that_its_schema_promises() =>
        Assert.All(Resources(Package).Where(each => each["format"]!.ToString() == "csv"), each =>
        {
            var table = CsvTable.Read(demo[each["path"]!.ToString().Split('/')]);
            Assert.True(table.Count > 0, $"{each["path"]} has no row to judge");
            Assert.Empty(TableRules.Broken(each["schema"]!, table.Columns, [.. table.Rows.Select(row => table.Columns
                .Select(name => row[name]).ToArray())]));
        });

    [Theory]
    [InlineData("records")]
    [InlineData("attempts")]
    public async Task Every_parquet_table_keeps_the_types_constraints_and_keys_that_its_schema_promises(string name)
    {
        var schema = Schema(name);
        var table = await ParquetTable.Read(demo["data", name + ".parquet"]);
        Assert.NotEmpty(table[0].Cells);
        Assert.Empty(TableRules.Broken(schema, [.. table.Select(column => column.Name)], RowsOf(table)));
        Assert.All(table.Zip(schema["fields"]!.AsArray()), pair => Assert.Equal(pair.Second!["type"]!.ToString(), Word(pair.First.Type)));
    }

    [Fact]
    public async Task Every_attempt_belongs_to_a_record_as_the_foreign_key_says()
    {
        var (attempts, records) = (await ParquetTable.Read(demo["data", "attempts.parquet"]),
            await ParquetTable.Read(demo["data", "records.parquet"]));
        var key = Schema("attempts")["foreignKeys"]![0]!;
        Assert.Equal("records", key["reference"]!["resource"]!.ToString());
        var known = TableRules.Keys(key["reference"]!["fields"]!.AsArray(), [.. records.Select(column => column.Name)], RowsOf(records));
        Assert.Subset(known.ToHashSet(),
            TableRules.Keys(key["fields"]!.AsArray(), [.. attempts.Select(column => column.Name)], RowsOf(attempts)).ToHashSet());
    }

    [Fact]
    public async Task No_word_for_a_missing_value_stands_in_the_parquet_tables_which_say_that_it_is_lost()
    {
        foreach (var name in (string[])["records", "attempts"])
        {
            var lost = Schema(name)["outcomes:lostMissingValues"]!.AsArray().Select(word => word!["value"]!.ToString()).ToHashSet();
            Assert.Contains("not_recorded", lost);
            Assert.Empty(Schema(name)["missingValues"]!.AsArray());
            // A word that a field allows as an answer is one.
            var answers = Schema(name)["fields"]!.AsArray().Where(field => field!["constraints"]?["enum"] is not null)
                .ToDictionary(field => field!["name"]!.ToString(), field => field!["constraints"]!["enum"]!.AsArray()
                    .Select(value => value!.ToString()).ToHashSet());
            Assert.All(await ParquetTable.Read(demo["data", name + ".parquet"]), column => Assert.DoesNotContain(column.Cells,
                cell => cell is not null && lost.Contains(cell) && !(answers.GetValueOrDefault(column.Name)?.Contains(cell) ?? false)));
        }
    }

    [Fact]
    public void Units_of_the_records_are_those_of_the_dictionary()
    {
        var fields = Schema("records")["fields"]!.AsArray().ToDictionary(field => field!["name"]!.ToString(), field => field!);
        var dictionary = JsonNode.Parse(File.ReadAllText(Repository.InRoot("pipelines", "dictionary", "procedure.json")))!;
        var measured = dictionary["fields"]!.AsArray().Where(field => field!["outcomes:unit"] is not null).ToList();
        Assert.NotEmpty(measured);
        Assert.All(measured, field =>
        {
            var described = fields[field!["name"]!.ToString()];
            Assert.Equal(field["outcomes:unit"]!.ToString(), described["outcomes:unit"]!.ToString());
            Assert.Equal(field["title"]!.ToString(), described["title"]!.ToString());
            var mayBeTooLow = field["missingValues"]?.AsArray().Any(word => word!.ToString() == "unrecordable") == true;
            Assert.Equal(field["description"] + (mayBeTooLow ? " 0: too low to measure." : ""), described["description"]!.ToString());
        });
    }

    private static IEnumerable<JsonNode> Resources(JsonNode package) => package["resources"]!.AsArray().Select(each => each!);

    private JsonNode Schema(string name) => Resources(Package).Single(each => each["name"]!.ToString() == name)["schema"]!;

    private static List<string?[]> RowsOf(IReadOnlyList<(string Name, Type Type, string?[] Cells)> table) =>
        [.. Enumerable.Range(0, table[0].Cells.Length).Select(row => table.Select(column => column.Cells[row]).ToArray())];

    private static string Word(Type type) =>
        type == typeof(bool) ? "boolean"
        : type == typeof(int) ? "integer"
        : type == typeof(double) ? "number"
        : type == typeof(DateOnly) ? "date"
        : type == typeof(ReadOnlyMemory<char>) ? "string"
        : type.Name;
}
