using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class CatalogueTests
{
    private const string Yaml = """
        id: brief
        title: Team brief
        eligible: emergency
        met: team_brief
        examples:
          - {given: {urgency: emergency, age_years: 60, team_brief: yes}, expect: met}
        """;

    [Fact]
    public void Every_example_of_every_shipped_measure_and_rule_comes_out_as_it_says() =>
        Assert.Empty(ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, MeasureCatalogue.Shipped, RuleFile.Shipped));

    [Fact]
    public void An_example_that_does_not_come_out_is_reported_with_its_line()
    {
        var measure = MeasureFile.Read(YamlFile.Read(Yaml.Replace("team_brief: yes", "team_brief: no"), "brief.yaml"));
        var rule = RuleFile.Read(YamlFile.Read(
            "- {id: r, expect: spo2_min > 50, severity: warn, examples: [{given: {spo2_min: 40}, expect: holds}]}", "rules.yaml"))[0];
        Assert.Equal(
            [new FailedExample("measure brief", "brief.yaml", 6, "met", "not_met"),
                new FailedExample("rule r", "rules.yaml", 1, "holds", "broken")],
            ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, [measure], [rule]));
    }

    [Fact]
    public void Every_shipped_measure_says_why_and_whence_and_shows_every_answer_it_can_give()
    {
        Assert.True(MeasureCatalogue.Shipped.Length >= 24);
        foreach (var measure in MeasureCatalogue.Shipped)
        {
            Assert.True(measure.Why.Length > 20, measure.Id);
            Assert.NotEmpty(measure.Source);
            Assert.True(measure.Examples.Length >= 4, measure.Id);
            var answers = measure.Examples.Select(example => example.Expect).ToHashSet();
            Assert.Contains(Answer.Met, answers);
            Assert.True(measure.Eligible == "true" || (answers.Contains(Answer.NotEligible) && answers.Contains(Answer.Missing)),
                measure.Id);
            Assert.True(measure.Kind == MeasureKind.Quantity || answers.Contains(Answer.NotMet), measure.Id);
        }
    }

    [Fact]
    public void The_headline_and_review_measures_of_the_design_are_there()
    {
        var ids = MeasureCatalogue.Shipped.Select(measure => measure.Id).ToHashSet();
        Assert.Superset(ImmutableHashSet.Create("first_pass", "first_pass_clean", "spo2_below_90", "hypotension", "waveform_co2",
            "checklist", "front_of_neck", "record_complete"), ids);
        Assert.Equal(1000, MeasureCatalogue.Shipped.Single(measure => measure.Id == "front_of_neck").Per);
    }

    [Fact]
    public void A_complete_record_is_one_that_has_every_core_field()
    {
        var met = MeasureCatalogue.Shipped.Single(measure => measure.Id == "record_complete").Met;
        // The keys of a row are always there; the lowest saturation and pressure, the attempts and the first-pass result stand behind
        // derived columns.
        var behind = new Dictionary<string, string>
        {
            ["spo2_min"] = "lowest_spo2",
            ["sbp_min"] = "lowest_sbp",
            ["attempts_total"] = "attempts",
            ["first_pass_success"] = "first_pass",
            ["complication"] = "complication_none"
        };
        foreach (var field in FieldDictionary.Shipped.Of(FieldDictionary.Procedure)
            .Where(field => field.Core && field.Name is not ("record_id" or "event_date")))
            Assert.Contains($"{behind.GetValueOrDefault(field.Name, field.Name)} is not null", met, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("eligible: emergency", "eligble: emergency", 3, "unknown key `eligble`")]
    [InlineData("met: team_brief\n", "", 1, "the key `met` is missing")]
    [InlineData("id: brief", "id: briefing", 1, "differ")]
    [InlineData("id: brief", "id: Brief", 1, "is no id")]
    [InlineData("title: Team brief", "title: Team brief\nvalue: spo2_min", 3, "has `met`, not `value`")]
    [InlineData("title: Team brief", "title: Team brief\nper: 0", 3, "above 0")]
    [InlineData("title: Team brief", "title: Team brief\ngroup: cost", 3, "expected one of outcome, harm")]
    [InlineData("title: Team brief", "title: Team brief\ndecimals: 1", 3, "only a quantity has `decimals`")]
    [InlineData("title: Team brief", "title: Team brief\norder: first", 3, "whole number")]
    [InlineData("title: Team brief", "title: Team brief\nmissing: ignored", 3, "expected one of dropped, not_done")]
    [InlineData("title: Team brief", "title: &t Team brief", 2, "anchors and aliases")]
    [InlineData("expect: met", "expect: yes", 6, "expected one of met")]
    [InlineData("team_brief: yes", "team_breif: yes", 6, "did you mean `team_brief`?")]
    [InlineData("team_brief: yes", "team_brief: perhaps", 6, "no value of `team_brief`")]
    [InlineData("team_brief: yes", "plans_verbalised: [A, E]", 6, "`E` is no value of `plans_verbalised`")]
    [InlineData("team_brief: yes", "adult: not_applicable", 6, "cannot be not_applicable itself")]
    public void A_measure_file_that_is_wrong_is_an_error_with_file_and_line(string from, string to, int line, string says)
    {
        var failure = Assert.Throws<Failure>(() => ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped,
            [MeasureFile.Read(YamlFile.Read(Yaml.ReplaceLineEndings("\n").Replace(from, to), "brief.yaml"))], []));
        Assert.Equal((ExitCode.Definition, "brief.yaml", line), (failure.Code, failure.File, failure.Line));
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_id_that_stands_twice_is_an_error()
    {
        var measure = MeasureFile.Read(YamlFile.Read(Yaml, "local/brief.yaml"));
        var failure = Assert.Throws<Failure>(() => MeasureCatalogue.Union([measure, measure]));
        Assert.Equal((ExitCode.Definition, "local/brief.yaml", 1), (failure.Code, failure.File, failure.Line));
        var rules = RuleFile.Read(
            YamlFile.Read("- {id: r, expect: 'true', severity: warn}\n- {id: r, expect: 'true', severity: warn}", "rules.yaml"));
        Assert.Contains("rules.yaml:2", Assert.Throws<Failure>(() => RuleFile.Union(rules)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("- {id: r, expect: spo2_min > 0, severity: blank}", "lists the fields")]
    [InlineData("- {id: r, expect: spo2_min > 0, severity: warn, blanks: [spo2_min]}", "only a rule of severity blank")]
    [InlineData("- {id: r, expect: spo2_min > 0, severity: blank, blanks: [fona_success]}", "names an event")]
    [InlineData("- {id: r, expect: spo2_min > 0, severity: ignore}", "expected one of refuse, blank, warn")]
    public void A_rule_that_is_wrong_is_an_error(string yaml, string says) =>
        Assert.Contains(says, Assert.Throws<Failure>(() => RuleFile.Read(YamlFile.Read(yaml, "rules.yaml"))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_pipeline_may_add_files_of_its_own_and_leave_the_shipped_ones_out()
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("outcomes-").FullName, "brief.yaml");
        File.WriteAllText(path, Yaml);
        Assert.Equal(["brief"], MeasureCatalogue.Load(false, [(path, "measures/brief.yaml")]).Select(measure => measure.Id));
        Assert.Equal(MeasureCatalogue.Shipped.Length + 1, MeasureCatalogue.Load(true, [(path, "measures/brief.yaml")]).Length);
        Assert.Contains("measures/gone.yaml", Assert.Throws<Failure>(() => MeasureCatalogue.Load(true,
            [(path + ".gone", "measures/gone.yaml")])).Message, StringComparison.Ordinal);
        Directory.Delete(Path.GetDirectoryName(path)!, true);
    }
}
