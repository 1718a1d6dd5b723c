using System.Text.Json;

namespace Outcomes.Tests;

/// <summary>The hand-worked folders hold together; that the pipeline gives their answers is tested end to end.</summary>
public class SmallFilesTests
{
    public static TheoryData<string> Folders => [.. Directory.GetDirectories(Repository.PathOf("synthetic-data/small"))
        .Select(folder => Path.GetFileName(folder)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Folders))]
    public void A_folder_s_expected_answers_reconcile_with_its_rows(string folder)
    {
        var path = Repository.PathOf("synthetic-data/small/" + folder);
        Assert.True(File.Exists(Path.Combine(path, "mapping.yaml")));
        Assert.Contains($"name: {folder}\n", File.ReadAllText(Path.Combine(path, "pipeline.yaml")), StringComparison.Ordinal);
        Assert.Contains($"**{folder}** proves", File.ReadAllText(Repository.PathOf("synthetic-data/README.md")), StringComparison.Ordinal);
        using var expected = JsonDocument.Parse(File.ReadAllText(Path.Combine(path, "expected.json")));
        if (expected.RootElement.GetProperty("exit").GetInt32() != 0)
            return;

        var rows = File.ReadAllLines(Path.Combine(path, "procedures.csv")).Skip(1).Count(line => line.Length > 0);
        var ledger = expected.RootElement.GetProperty("ledger").EnumerateObject().ToDictionary(x => x.Name, x => x.Value.GetInt32());
        Assert.Equal(rows, ledger["rows_in"]);
        Assert.Equal(rows, ledger["accepted"] + ledger["superseded"] + ledger["withdrawn"] + ledger["quarantined"]);
        foreach (var count in expected.RootElement.GetProperty("counts").EnumerateArray())
        {
            Assert.InRange(count.GetProperty("met").GetInt32(), 0, count.GetProperty("eligible").GetInt32());
            Assert.InRange(count.GetProperty("eligible").GetInt32() + count.GetProperty("missing").GetInt32(), 0, ledger["accepted"]);
        }
    }
}
