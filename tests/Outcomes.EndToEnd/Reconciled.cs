using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What a run of the tiny pipeline says of its rows, in short words that a test can state.</summary>
internal static class Reconciled
{
    /// <summary>Each row as <c>file:line key fate rule</c>.</summary>
    public static string[] Ledger(string output) =>
        [.. CsvTable.Read(output, "tables", "ledger.csv").Rows
            .Select(row => $"{row["file"]}:{row["line"]} {row["record_id"]} {row["fate"]} {row["rule"]}".TrimEnd())];

    /// <summary>The sums over all files, which must reconcile with the rows in.</summary>
    public static (int Accepted, int Superseded, int Quarantined) Total(string output)
    {
        var total = JsonNode.Parse(File.ReadAllText(Path.Combine(output, "run.json")))!["reconciliation"]!.AsArray()[^1]!;
        int Of(string name) => total[name]!.GetValue<int>();
        Assert.Equal(Of("rows_in"), Of("accepted") + Of("superseded") + Of("withdrawn") + Of("quarantined"));
        return (Of("accepted"), Of("superseded"), Of("quarantined"));
    }

    /// <summary>January's count as <c>met/eligible+missing</c>.</summary>
    public static string January(string output)
    {
        var row = Assert.Single(CsvTable.Read(output, "tables", "counts.csv").Rows,
            row => row["period"] == "2026-01" && row["stratum"] == "all");
        return $"{row["met"]}/{row["eligible"]}+{row["missing"]}";
    }
}
