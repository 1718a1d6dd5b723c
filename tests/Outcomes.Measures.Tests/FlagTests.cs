using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class FlagTests
{
    [Fact]
    public void Every_example_of_every_shipped_flag_comes_out_as_it_says() =>
        Assert.Empty(ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, [], [], FlagFile.Shipped));

    [Fact]
    public void An_example_that_does_not_come_out_is_reported_with_its_line()
    {
        var flags = FlagFile.Read(YamlFile.Read(
            "- {id: f, title: F, tier: 1, when: spo2_min < 60, examples: [{given: {spo2_min: 70}, expect: fires}]}", "flags.yaml"));
        Assert.Equal([new FailedExample("flag f", "flags.yaml", 1, "fires", "clear")],
            ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, [], [], flags));
    }

    [Fact]
    public void Every_shipped_flag_says_why_and_whence_shows_values_and_has_an_example_of_each_answer()
    {
        Assert.Equal(FlagFile.Shipped.Length, FlagFile.Shipped.Select(flag => flag.Id).Distinct().Count());
        foreach (var flag in FlagFile.Shipped)
        {
            Assert.True(flag.Why.Length > 10, flag.Id);
            Assert.NotEmpty(flag.Source);
            Assert.NotEmpty(flag.Shows);
            Assert.Equal([Fired.Fires, Fired.Clear, Fired.Unknown], flag.Examples.Select(example => example.Expect).Distinct().Order());
        }
    }

    [Fact]
    public void Every_tier_has_flags()
    {
        Assert.Equal(Enum.GetValues<Tier>(), FlagFile.Shipped.Select(flag => flag.Tier).Distinct().Order());
    }

    [Theory]
    [InlineData("- {id: f, title: F, tier: 4, when: spo2_min < 60}", "learning")]
    [InlineData("- {id: f, title: F, tier: 1, then: spo2_min < 60}", "then")]
    public void A_wrong_flag_is_named_with_file_and_line(string yaml, string said)
    {
        var failure = Assert.Throws<Failure>(() => FlagFile.Read(YamlFile.Read(yaml, "flags.yaml")));
        Assert.Contains("flags.yaml:1", failure.Message);
        Assert.Contains(said, failure.Message);
    }
}
