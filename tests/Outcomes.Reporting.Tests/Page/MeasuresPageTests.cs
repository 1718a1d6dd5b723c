using Outcomes.Measures.Catalogue;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>The list of measures says what the catalogue says, and every shipped measure has a place in it.</summary>
public sealed class MeasuresPageTests
{
    [Fact]
    public void The_list_of_measures_is_what_the_catalogue_makes()
    {
        var made = Path.Combine(AppContext.BaseDirectory, "measures.md");
        File.WriteAllText(made, MeasuresPage.Text());
        Assert.True(File.ReadAllText(InRoot("docs", "measures.md")) == MeasuresPage.Text(),
            $"docs/measures.md is not what the catalogue makes; copy {made} over it and read the difference");
    }

    [Fact]
    public void Every_shipped_measure_states_its_group() =>
        Assert.DoesNotContain(MeasureCatalogue.Shipped, measure => measure.Group == MeasureGroup.Other);

    [Fact]
    public void No_two_shipped_measures_have_one_title() =>
        Assert.Equal(MeasureCatalogue.Shipped.Length, MeasureCatalogue.Shipped.Select(measure => measure.Title).Distinct().Count());

    private static string InRoot(params string[] parts)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            folder = folder.Parent!;
        return Path.Combine([folder.FullName, .. parts]);
    }
}
