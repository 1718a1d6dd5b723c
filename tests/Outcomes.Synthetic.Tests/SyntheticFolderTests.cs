using Outcomes.Synthetic;
using Outcomes.Synthetic.Export;

namespace Outcomes.Tests;

public class SyntheticFolderTests
{
    [Fact]
    public void A_folder_has_all_that_a_run_needs()
    {
        var files = Write(new() { Seed = 9, Procedures = 40, Months = 6, FirstMonth = new(2024, 2, 1) }, "north");

        Assert.Equal(["actions.yaml", "attempts.csv", "case-salt.txt", "changes.yaml", "mappings/attempts.yaml", "mappings/demo.yaml",
            "mappings/traces.yaml", "minutes/minutes-2025-10.json", "pipeline.yaml", "procedures.csv", "traces.csv",
            "truth.json", "tubes-issued.csv"],
            files.Keys.Order(StringComparer.Ordinal));
        var pipeline = files["pipeline.yaml"];
        Assert.Contains("name: north\n", pipeline, StringComparison.Ordinal);
        Assert.Contains("as_of: 2024-07-31 ", pipeline, StringComparison.Ordinal);
        Assert.Contains("procedures: {file: procedures.csv, mapping: mappings/demo.yaml}", pipeline, StringComparison.Ordinal);
        Assert.Contains("attempts: {file: attempts.csv, mapping: mappings/attempts.yaml}", pipeline, StringComparison.Ordinal);
        Assert.Contains("baseline: {from: 2024-02, months: 6}", pipeline, StringComparison.Ordinal);
        Assert.DoesNotContain("synthetic-data", pipeline, StringComparison.Ordinal);
        Assert.Contains("\"pipeline\": \"north\"", files["minutes/minutes-2025-10.json"], StringComparison.Ordinal);
    }

    [Fact]
    public void The_mappings_are_the_shipped_ones()
    {
        var files = Write(new() { Seed = 9, Procedures = 5 }, "x");

        foreach (var name in new[] { "mappings/demo.yaml", "mappings/attempts.yaml" })
            Assert.Equal(File.ReadAllText(Repository.PathOf("pipelines/" + name)).ReplaceLineEndings("\n"), files[name]);
    }

    [Theory]
    [InlineData(0, 36, 2023, 1)]
    [InlineData(10, 0, 2023, 1)]
    [InlineData(10, 36, 1999, 1)]
    [InlineData(10, 36, 2023, 2)]
    public void Options_that_cannot_be_are_refused(int procedures, int months, int year, int day) =>
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            Write(new() { Seed = 1, Procedures = procedures, Months = months, FirstMonth = new(year, 4, day) }, "x"));

    private static Dictionary<string, string> Write(SynthesisOptions options, string name)
    {
        var writers = new Dictionary<string, StringWriter>();
        SyntheticFolder.Write(options, name, path => writers[path] = new StringWriter());
        return writers.ToDictionary(file => file.Key, file => file.Value.ToString());
    }
}
