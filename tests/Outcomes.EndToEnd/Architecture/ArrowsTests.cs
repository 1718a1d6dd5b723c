using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Architecture;

public sealed class ArrowsTests
{
    [Fact]
    public void The_built_assemblies_know_only_what_the_design_allows() =>
        Assert.Empty(Arrows.Violations(References.InFolder(Repository.ToolFolder)));

    [Fact]
    public void Every_project_has_a_place_in_the_table_of_arrows() =>
        Assert.All(Projects.Assemblies(Repository.InRoot("src")), name => Assert.True(Arrows.Knows(name), name));

    [Fact]
    public void Every_project_is_built_beside_the_tool() =>
        Assert.All(Projects.Assemblies(Repository.InRoot("src")),
            name => Assert.True(File.Exists(Path.Combine(Repository.ToolFolder, name + ".dll")), name));

    [Fact]
    public void Every_assembly_of_ours_beside_the_tool_comes_from_a_project() =>
        Assert.Empty(References.AssembliesIn(Repository.ToolFolder).Except(Projects.Assemblies(Repository.InRoot("src"))));

    [Fact]
    public void The_projects_are_found_and_not_listed()
    {
        var found = Projects.Assemblies(Repository.InRoot("src"));
        Assert.Superset(new HashSet<string> { "outcomes", "Outcomes.Records", "Outcomes.Statistics", "Outcomes.Measures" },
            found.ToHashSet());
    }

    [Fact]
    public void The_command_line_is_seen_to_know_the_other_assemblies() =>
        Assert.Contains(References.InFolder(Repository.ToolFolder),
            reference => reference is { From: "outcomes", To: "Outcomes.Measures" });

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
    [InlineData("outcomes", "Microsoft.AspNetCore.Http.Abstractions")]
    [InlineData("Outcomes.Reporting", "Outcomes.Explore")]
    [InlineData("Outcomes.Explore", "outcomes")]
    [InlineData("Outcomes.Reporting", "Outcomes.CaseMix")]
    [InlineData("Outcomes.Analysis", "Outcomes.Ingestion")]
    [InlineData("Outcomes.Analysis", "Outcomes.Reporting")]
    [InlineData("Outcomes.Analysis", "outcomes")]
    [InlineData("Outcomes.CaseMix", "Outcomes.Records")]
    [InlineData("Outcomes.Explore", "Outcomes.Ingestion")]
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
