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
    public void The_page_of_definitions_is_what_the_catalogue_makes()
    {
        var made = Path.Combine(AppContext.BaseDirectory, "definitions.md");
        File.WriteAllText(made, DefinitionsPage.Text());
        Assert.True(File.ReadAllText(InRoot("docs", "definitions.md")) == DefinitionsPage.Text(),
            $"docs/definitions.md is not what the catalogue makes; copy {made} over it and read the difference");
    }

    [Fact]
    public void A_measure_without_a_published_definition_says_that_it_is_a_proposal_or_common_practice() =>
        Assert.Empty(MeasureCatalogue.Shipped.Except(DefinitionsPage.Compared)
            .Where(measure => !measure.Source.Contains("proposal of this project", StringComparison.OrdinalIgnoreCase)
                && !measure.Source.Contains("common practice", StringComparison.OrdinalIgnoreCase)).Select(measure => measure.Id));

    [Fact]
    public void A_shipped_measure_states_the_difference_from_its_source_as_a_sentence_or_none_and_nothing_without_one() =>
        Assert.All(MeasureCatalogue.Shipped, measure => Assert.True(measure.AsPublished.Length == 0
            ? measure.Difference.Length == 0
            : measure.Difference == "none" || measure.Difference.EndsWith('.'), $"{measure.Id}: {measure.Difference}"));

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
