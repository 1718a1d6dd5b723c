using System.Text.Json.Nodes;
using AngleSharp.Html.Parser;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Tests.Reporting.Form;

public sealed class FormPlanTests
{
    private static readonly FormPlan Plan = FormPlan.Shipped;

    [Fact]
    public void Every_field_that_a_person_can_enter_is_asked_for_once_or_left_out_for_a_stated_reason()
    {
        var asked = Plan.Stages.SelectMany(stage => stage.Fields).Concat(Plan.Attempts).ToList();
        Assert.Equal(asked.Count, asked.Distinct().Count());
        Assert.All(Plan.LeftOut.Values, reason => Assert.NotEmpty(reason));
        var enterable = FieldDictionary.Shipped.Of(FieldDictionary.Procedure).Where(field => !FieldDictionary.IsFromTraces(field))
            .Concat(FieldDictionary.Shipped.Of(FieldDictionary.Attempt).Where(field => field.Name != "record_id"));
        Assert.Equal(
            enterable.Select(Key).Order(StringComparer.Ordinal),
            asked.Select(Key).Concat(Plan.LeftOut.Keys.Select(name => Key(FieldDictionary.Shipped.Find(FieldDictionary.Procedure, name)
                ?? FieldDictionary.Shipped.Find(FieldDictionary.Attempt, name)!))).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_field_that_may_hold_a_direct_identifier_is_never_asked_for() =>
        Assert.DoesNotContain(Plan.Stages.SelectMany(stage => stage.Fields).Concat(Plan.Attempts),
            field => field.Identifying == Identifying.DirectRisk);

    [Fact]
    public void What_a_field_waits_for_is_asked_for_and_can_have_each_value_that_it_waits_for()
    {
        foreach (var (name, on) in Plan.AskedIf)
        {
            var of = Assert.Single(Plan.Stages.SelectMany(stage => stage.Fields), field => field.Name == on.Field);
            Assert.Contains(Plan.Stages.SelectMany(stage => stage.Fields), field => field.Name == name);
            Assert.Subset((of.Type == FieldType.YesNo ? ["yes", "no"] : of.Allowed).ToHashSet(), on.Values.ToHashSet());
        }
    }

    [Fact]
    public void Every_choice_is_offered_by_its_title()
    {
        var page = new HtmlParser().ParseDocument(FormPage.Html(Plan, new JsonArray()));
        var options = page.QuerySelectorAll("option[value], input[type=checkbox]")
            .Select(each => (each.GetAttribute("value"),
                Text: (each.LocalName == "option" ? each : each.ParentElement!).TextContent.Trim()))
            .ToHashSet();
        foreach (var field in Plan.Stages.SelectMany(stage => stage.Fields))
            foreach (var value in field.Allowed)
                Assert.Contains((value, field.TitleOf(value)), options);
    }

    [Fact]
    public void The_page_has_one_control_with_label_and_hint_for_each_field_and_each_id_once()
    {
        var page = new HtmlParser().ParseDocument(FormPage.Html(Plan, new JsonArray()));
        Assert.Equal(page.QuerySelectorAll("[id]").Select(one => one.Id).Distinct().Count(), page.QuerySelectorAll("[id]").Length);
        foreach (var field in Plan.Stages.SelectMany(stage => stage.Fields))
        {
            Assert.NotNull(page.GetElementById(field.Name));
            Assert.True(page.QuerySelector($"label[for='{field.Name}']") is not null
                || page.QuerySelector($"fieldset#{field.Name} > legend") is not null, field.Name);
            Assert.StartsWith(field.Description, page.GetElementById(field.Name + "-hint")!.TextContent, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_paper_asks_for_every_core_field()
    {
        var text = System.Net.WebUtility.HtmlDecode(PaperForm.Html(Plan));
        Assert.All(Plan.Stages.SelectMany(stage => stage.Fields).Where(field => field.Core),
            field => Assert.Contains($"<b>{field.Title}", text, StringComparison.Ordinal));
    }

    [Fact]
    public void The_shipped_mapping_is_the_one_that_the_command_writes() =>
        Assert.Equal(File.ReadAllText(Path.Combine(Root(), "pipelines", "mappings", "form.yaml")).ReplaceLineEndings("\n"),
            FormMapping.Text(Plan));

    [Fact]
    public void A_field_of_the_department_is_asked_for_at_the_end_and_mapped()
    {
        var own = FormPlan.For(FieldDictionary.Shipped.With([new Field("own_day", FieldDictionary.Procedure, FieldType.Date, "Own day",
            "A day of our own.")]));
        Assert.Equal("own_day", Assert.Single(own.Stages[^1].Fields).Name);
        Assert.Contains("  own_day: {column: own_day, date: yyyy-MM-dd}\n", FormMapping.Text(own), StringComparison.Ordinal);
    }

    [Fact]
    public void A_field_that_the_dictionary_lacks_is_an_error_with_file_and_line()
    {
        var failure = Assert.Throws<Failure>(() => FormPlan.Read("stages:\n  - {id: a, title: A, fields: [no_such]}\nattempts: []\n"
            + "paper: {fields: [], attempts: []}\n", "form.yaml", FieldDictionary.Shipped));
        Assert.Contains("form.yaml", failure.Message, StringComparison.Ordinal);
        Assert.Contains("no_such", failure.Message, StringComparison.Ordinal);
    }

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Outcomes.sln"))) folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    private static string Key(Field field) => $"{field.Table}.{field.Name}";
}
