using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// What even the department's own pages do not show, and how the set says for whom it is. Which measures are never split by
/// grade: ModelTests.
/// </summary>
public sealed class DepartmentTests(DemoRun demo) : IClassFixture<DemoRun>
{
    [Fact]
    public void Pages_split_by_the_grade_of_who_held_the_laryngoscope_only_among_strata_of_twelve_months()
    {
        var sections = (File.ReadAllText(demo["report.html"]) + File.ReadAllText(demo["appendix.html"])).Split("<section ")
            .Where(section => Regex.IsMatch(section, "perator('|’|&#39;)s grade")).ToArray();
        Assert.StartsWith("aria-labelledby=\"strata\"", Assert.Single(sections), StringComparison.Ordinal);
        Assert.Matches("<p>April.2025 to March.2026\\.", sections[0]);
    }

    [Fact]
    public void The_data_package_says_of_every_table_that_it_is_not_to_be_passed_on()
    {
        using var package = System.Text.Json.JsonDocument.Parse(File.ReadAllText(demo["datapackage.json"]));
        Assert.All(package.RootElement.GetProperty("resources").EnumerateArray().Append(package.RootElement),
            each => Assert.Equal("department: contains small numbers, do not pass on", each.GetProperty("description").GetString()));
    }
}
