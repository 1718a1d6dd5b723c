using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary><c>outcomes form</c> as a command: whose fields it asks for, and that it never writes over a file.</summary>
public sealed class FormCommandTests : IDisposable
{
    private const string Pipeline = """
        name: ours
        as_of: 2026-03-31
        sources:
          procedures: {file: rows.csv, mapping: form.yaml}
        fields: fields.json

        """;

    private const string Local = """
        {"procedure": {"fields": [{"name": "trolley", "title": "Airway trolley", "type": "string", "description": "Which trolley was brought.", "constraints": {"enum": ["red", "blue"]}, "outcomes:identifying": "none"}]},
         "attempt": {"fields": [{"name": "light", "title": "Light of the blade", "type": "boolean", "description": "Whether the light worked.", "trueValues": ["yes"], "falseValues": ["no"], "outcomes:identifying": "none"}]}}
        """;

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_department_is_asked_for_the_core_fields_its_own_and_the_ones_it_names_on_screen_on_paper_and_in_the_mapping()
    {
        _workspace.Write("pipeline.yaml", Pipeline + "form:\n  fields: [mallampati, ppe_breach_stage]\n  attempts: [device]\n");
        _workspace.Write("fields.json", Local);
        var result = await ToolProcess.Run(_workspace.Folder, "form", "pipeline.yaml", "--paper", "paper.html", "--mapping", "form.yaml");
        Assert.True(result.Exit == 0, result.ToString());
        var (screen, paper, mapping) = (_workspace.Read("form.html"), _workspace.Read("paper.html"), _workspace.Read("form.yaml"));
        foreach (var name in new[]
        {
            "spo2_min", "plan_d", "observation_window", "mallampati", "ppe_breach_stage", "ppe_breach", "trolley"
        })
        {
            Assert.Contains($"""id="{name}-field">""", screen, StringComparison.Ordinal);
            Assert.Contains($"\n  {name}: ", mapping, StringComparison.Ordinal);
        }

        foreach (var name in new[] { "technique", "outcome", "device", "light" })
            Assert.Contains($"""id="attempt#_{name}-field">""", screen, StringComparison.Ordinal);
        foreach (var name in new[] { "osa", "attempt#_view_mcl", "debrief_done" })
            Assert.DoesNotContain($"""id="{name}-field">""", screen, StringComparison.Ordinal);
        // What was chosen is not folded away.
        Assert.DoesNotContain("<details>", screen, StringComparison.Ordinal);
        Assert.All(new[] { "Mallampati", "Airway trolley", "Light of the blade", "Lowest SpO2" },
            title => Assert.Contains(title, paper, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain("sleep apnoea", paper, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Without_a_choice_a_department_has_all_fields_and_its_own_stand_unfolded_on_both()
    {
        _workspace.Write("pipeline.yaml", Pipeline);
        _workspace.Write("fields.json", Local);
        var result = await ToolProcess.Run(_workspace.Folder, "form", "pipeline.yaml", "--paper", "paper.html");
        Assert.True(result.Exit == 0, result.ToString());
        var (screen, paper) = (_workspace.Read("form.html"), _workspace.Read("paper.html"));
        Assert.Contains("id=\"osa-field\">", screen, StringComparison.Ordinal);
        Assert.True(screen.LastIndexOf("</details>", screen.IndexOf("id=\"trolley-field\">", StringComparison.Ordinal),
            StringComparison.Ordinal)
            > screen.LastIndexOf("<details>", screen.IndexOf("id=\"trolley-field\">", StringComparison.Ordinal), StringComparison.Ordinal));
        Assert.All(new[] { "Airway trolley", "Light of the blade" }, title => Assert.Contains(title, paper, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("fields: [malampati]", "mallampati")]
    [InlineData("fields: [narrative]", "free text can hold a name")]
    [InlineData("fields: [trace_spo2_min]", "no field")]
    [InlineData("attempts: [mallampati]", "no field `mallampati` of an attempt")]
    [InlineData("columns: [mallampati]", "columns")]
    public async Task A_name_that_no_form_asks_for_is_an_error_at_its_line_and_nothing_is_written(string choice, string said)
    {
        _workspace.Write("pipeline.yaml", Pipeline + $"form:\n  {choice}\n");
        _workspace.Write("fields.json", Local);
        var result = await ToolProcess.Run(_workspace.Folder, "form", "pipeline.yaml");
        Assert.Equal(3, result.Exit);
        Assert.Contains("pipeline.yaml:7: ", result.Error, StringComparison.Ordinal);
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["form.html"]));
    }

    [Theory]
    [InlineData("--out")]
    [InlineData("--paper")]
    [InlineData("--mapping")]
    public async Task A_file_that_is_there_is_never_written_over_and_then_none_is_written(string option)
    {
        _workspace.Write("taken.html", "mine");
        string[] others = [.. new[] { "--out", "--paper", "--mapping" }.Where(other => other != option)
            .SelectMany(other => new[] { other, other[2..] + ".html" })];
        var result = await ToolProcess.Run(_workspace.Folder, ["form", option, "taken.html", .. others]);
        Assert.Equal(5, result.Exit);
        Assert.Contains($"{option}: `taken.html` is there already", result.Error, StringComparison.Ordinal);
        Assert.Equal("mine", _workspace.Read("taken.html"));
        Assert.Equal(["taken.html"], Directory.GetFileSystemEntries(_workspace.Folder).Select(Path.GetFileName));
    }

    [Theory]
    [InlineData("no-such-folder/form.html", "paper.html", 5)]
    [InlineData("form.html", "./form.html", 2)]
    public async Task A_place_that_cannot_be_written_or_is_named_twice_is_told_in_a_sentence(string form, string paper, int exit)
    {
        var result = await ToolProcess.Run(_workspace.Folder, "form", "--out", form, "--paper", paper);
        Assert.Equal(exit, result.Exit);
        Assert.Equal(1, result.Error.Count(c => c == '\n'));
        Assert.Empty(Directory.GetFileSystemEntries(_workspace.Folder));
    }
}
