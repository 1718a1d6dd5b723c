using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Architecture;

public sealed class ArrowsTests
{
    private static readonly string[] Assemblies =
    [
        "outcomes", "Outcomes.Ingestion", "Outcomes.Measures", "Outcomes.Records", "Outcomes.Reporting", "Outcomes.Statistics", "Outcomes.Synthetic",
    ];

    [Fact]
    public void The_built_assemblies_know_only_what_the_design_allows() =>
        Assert.Empty(Arrows.Violations(References.InFolder(Repository.ToolFolder)));

    [Fact]
    public void Every_assembly_of_the_design_lies_beside_the_tool() =>
        Assert.All(Assemblies, name => Assert.True(File.Exists(Path.Combine(Repository.ToolFolder, name + ".dll")), name));

    [Fact]
    public void The_command_line_is_seen_to_know_the_other_assemblies() =>
        Assert.Contains(References.InFolder(Repository.ToolFolder), reference => reference is { From: "outcomes", To: "Outcomes.Measures" });

    [Theory]
    [InlineData("Outcomes.Statistics", "Outcomes.Records")]
    [InlineData("Outcomes.Statistics", "Outcomes.Measures")]
    [InlineData("Outcomes.Records", "Outcomes.Statistics")]
    [InlineData("Outcomes.Ingestion", "Outcomes.Measures")]
    [InlineData("Outcomes.Measures", "Outcomes.Ingestion")]
    [InlineData("Outcomes.Reporting", "Outcomes.Ingestion")]
    [InlineData("Outcomes.Reporting", "outcomes")]
    [InlineData("Outcomes.CaseMix", "Outcomes.Measures")]
    [InlineData("Outcomes.Records", "CsvHelper")]
    [InlineData("Outcomes.Statistics", "DuckDB.NET.Data")]
    [InlineData("outcomes", "ScottPlot")]
    public void A_wrong_arrow_is_found_and_named(string from, string to)
    {
        var violation = Assert.Single(Arrows.Violations([new(from, to)]));
        Assert.Contains($"{from} -> {to}", violation);
    }

    [Fact]
    public void An_assembly_without_a_place_is_found() =>
        Assert.Contains("Outcomes.Elsewhere", Assert.Single(Arrows.Violations([new("Outcomes.Elsewhere", "Outcomes.Records")])));

    [Fact]
    public void References_are_read_from_a_built_file_and_leave_the_framework_out()
    {
        var mine = References.Of(typeof(ArrowsTests).Assembly.Location).ToArray();
        Assert.Contains(mine, reference => reference.To.StartsWith("xunit.v3.", StringComparison.Ordinal));
        Assert.DoesNotContain(mine, reference => reference.To == "System.Runtime");
        Assert.NotEmpty(Arrows.Violations(mine));
    }
}
