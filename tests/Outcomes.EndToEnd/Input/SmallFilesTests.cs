using System.Globalization;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The small invented files whose answers were worked out by hand (synthetic-data/README.md shows how).</summary>
public sealed class SmallFilesTests
{
    private static readonly string[] Cell = ["measure", "period", "stratum", "level"];

    public static TheoryData<string> Folders =>
        [.. Directory.GetDirectories(Repository.InRoot("synthetic-data", "small")).Select(folder => Path.GetFileName(folder))
            .Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Folders))]
    public async Task A_small_file_gives_the_answer_worked_out_by_hand(string name)
    {
        using var workspace = new Workspace();
        Workspace.CopyFolder(Repository.InRoot("synthetic-data", "small", name), workspace[name]);
        using var json = JsonDocument.Parse(workspace.Read(name, "expected.json"));
        var expected = json.RootElement;
        Assert.True(expected.TryGetProperty("exit", out var exit), "expected.json states no exit code");

        var result = await ToolProcess.Run(workspace.Folder, "run", Path.Combine(name, "pipeline.yaml"), "--charts",
            "none", "--out", "out");

        Assert.True(exit.GetInt32() == result.Exit, result.ToString());
        var tables = workspace["out", "tables"];
        foreach (var part in expected.EnumerateObject())
        {
            switch (part.Name)
            {
                case "exit":
                    break;
                case "counts":
                    Each(part.Value, row => AssertNumbers(tables, "counts.csv", row, "met", "eligible", "missing"));
                    break;
                case "estimates":
                    Each(part.Value, row => AssertNumbers(tables, "estimates.csv", row, "value", "lower", "upper"));
                    break;
                case "absent":
                    Each(part.Value, measure => Assert.DoesNotContain(CsvTable.Read(tables, "counts.csv").Rows,
                        row => row["measure"] == measure.GetString()));
                    break;
                case "findings":
                    Each(part.Value, finding => Assert.Contains(CsvTable.Read(tables, "findings.csv").Rows, row => Matches(row, finding)));
                    break;
                case "ledger":
                    AssertLedger(CsvTable.Read(tables, "ledger.csv"), part.Value);
                    break;
                default:
                    Assert.Fail($"expected.json of {name} asks for `{part.Name}`, which this test does not know");
                    break;
            }
        }
    }

    private static void Each(JsonElement list, Action<JsonElement> check)
    {
        Assert.NotEqual(0, list.GetArrayLength());
        foreach (var item in list.EnumerateArray())
            check(item);
    }

    private static void AssertNumbers(string tables, string file, JsonElement expected, params string[] numbers)
    {
        var row = Assert.Single(CsvTable.Read(tables, file).Rows,
            row => Cell.All(column => row[column] == expected.GetProperty(column).GetString()));
        foreach (var number in numbers)
            Assert.True(
                Math.Abs(expected.GetProperty(number).GetDouble() - double.Parse(row[number], CultureInfo.InvariantCulture)) < 1e-11,
                $"{file}: {expected.GetProperty("measure")} {number} is {row[number]}, expected {expected.GetProperty(number)}");
    }

    private static bool Matches(IReadOnlyDictionary<string, string> row, JsonElement finding) =>
        finding.EnumerateObject().All(part => row[part.Name] == part.Value.ToString());

    private static void AssertLedger(CsvTable ledger, JsonElement expected)
    {
        Assert.Equal(expected.GetProperty("rows_in").GetInt32(), ledger.Count);
        foreach (var fate in new[] { "accepted", "superseded", "withdrawn", "quarantined" })
            Assert.Equal(expected.GetProperty(fate).GetInt32(), ledger.Rows.Count(row => row["fate"] == fate));
    }
}
