using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What even the department's own set does not show, and how it says for whom it is.</summary>
public sealed class DepartmentTests(DemoRun demo) : IClassFixture<DemoRun>
{
    [Theory]
    [InlineData("counts.csv")]
    [InlineData("estimates.csv")]
    [InlineData("values.csv")]
    public void No_table_shows_the_grade_of_who_held_the_laryngoscope_by_month(string table)
    {
        var rows = CsvTable.Read(demo["tables", table]).Rows.ToArray();
        Assert.Contains(rows, row => row["stratum"] == "location_type" && !row["period"].Contains('/', StringComparison.Ordinal));
        Assert.DoesNotContain(rows, row => row["stratum"].StartsWith("operator_", StringComparison.Ordinal) && !row["period"].Contains('/', StringComparison.Ordinal));
    }

    [Fact]
    public void No_table_shows_it_for_arrest_or_front_of_neck_access_over_any_time()
    {
        var rows = CsvTable.Read(demo["tables", "counts.csv"]).Rows.Where(row => row["stratum"] == "operator_grade").ToArray();
        Assert.Contains(rows, row => row["measure"] == "first_pass");
        Assert.DoesNotContain(rows, row => row["measure"] is "cardiac_arrest" or "front_of_neck" or "plan_d_used" or "plan_d_success");
    }

    [Fact]
    public void The_data_package_says_of_every_table_that_it_is_not_to_be_passed_on()
    {
        using var package = System.Text.Json.JsonDocument.Parse(File.ReadAllText(demo["datapackage.json"]));
        Assert.All(package.RootElement.GetProperty("resources").EnumerateArray().Append(package.RootElement),
            each => Assert.Equal("department: contains small numbers, do not pass on", each.GetProperty("description").GetString()));
    }
}
