using System.Text.RegularExpressions;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>
/// Minutes as a pipeline reads them: merged with the file of actions, closed by it, and refused without a word of their text.
/// </summary>
public sealed class MinutesTests : IDisposable
{
    private const string Pipeline = """
        name: harbour
        sources:
          records: {file: export.csv, mapping: mapping.yaml}
        actions: actions.yaml
        minutes: minutes

        """;

    private const string Minutes = """
        {
         "format": "outcomes-minutes",
         "version": 1,
         "pipeline": "harbour",
         "month": "2026-01",
         "held": "2026-02-10",
         "present": {
          "nursing": 1
         },
         "cases": [
          {
           "id": "ABCDEF",
           "happened": "Secretword",
           "why": "Secretword",
           "learning": "Secretword",
           "harm": "low",
           "candour": "done",
           "candour_role": "secretword",
           "disposition": "teach",
           "factors": {
            "team": {
             "helped": "Secretword"
            }
           }
          }
         ],
         "actions": [
          {
           "id": "2026-01-ABCDEF-1",
           "cases": [
            "ABCDEF"
           ],
           "what": "Secretword",
           "owner": "secretword",
           "due": "2026-03-31",
           "measure": "first_pass",
           "measure_by": "2026-09-30"
          }
         ],
         "numbers": {
          "ABCDEF": 2
         }
        }

        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("outcomes-test-").FullName;

    public MinutesTests()
    {
        Directory.CreateDirectory(Path.Combine(_folder, "minutes"));
        Write("actions.yaml", "# Nothing yet.\n");
        Write("minutes/a.json", Minutes);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void An_action_of_minutes_has_its_id_owner_dates_measure_and_cases_and_was_opened_at_the_meeting()
    {
        var action = Assert.Single(Read());
        Assert.Equal(("2026-01-ABCDEF-1", "Secretword", "secretword", "first_pass"),
            (action.Id, action.What, action.Owner, action.Measure));
        Assert.Equal((new DateOnly(2026, 3, 31), new DateOnly(2026, 2, 10), new DateOnly(2026, 9, 30)),
            (action.Due, action.Opened, action.MeasureBy));
        Assert.Equal(["ABCDEF"], action.Cases);
        Assert.Null(action.Closed);
    }

    [Fact]
    public void Minutes_stand_beside_the_file_of_actions_and_are_closed_by_an_entry_of_it()
    {
        Write("actions.yaml", """
            - {id: own, what: Do it, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05}
            - closes: 2026-01-ABCDEF-1
              closed: 2026-03-02
              effect: Done
            """);
        var actions = Read();
        Assert.Equal([("own", null, null), ("2026-01-ABCDEF-1", new DateOnly(2026, 3, 2), "Done")],
            actions.Select(action => (action.Id, action.Closed, action.Effect)));
    }

    [Fact]
    public void Later_minutes_close_an_action_of_earlier_ones_and_one_of_the_file_of_actions()
    {
        Write("actions.yaml", "- {id: own, what: Do it, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05}\n");
        Write("minutes/b.json", Closes("2026-01-ABCDEF-1", "2026-03-10", "own", "2026-02-01"));
        Assert.Equal([("own", new DateOnly(2026, 2, 1), "Secretword 1"), ("2026-01-ABCDEF-1", new DateOnly(2026, 3, 10), "Secretword 0")],
            Read().Select(action => (action.Id, action.Closed!.Value, action.Effect!)));
    }

    [Theory]
    [InlineData("2026-01-ABCDEF-1", "2026-02-09", "before the meeting that decided it, at minutes/a.json:29")]
    [InlineData("2026-01-ABCDEF-1", "2026-03-11", "closed after the meeting that says so")]
    [InlineData("2026-01-ABCDEF-1", "", "`closed` is missing")]
    [InlineData("Secretword", "2026-03-01", "no action has the id that is closed here")]
    [InlineData("done", "2026-03-01", "the action `done` is closed twice, first at actions.yaml:1")]
    [InlineData("2026-01-GHJKLM-1", "2026-03-01", "closed twice, first at actions.yaml:2")]
    public void A_closing_in_minutes_that_fits_no_open_action_is_refused_without_a_word_of_theirs(string id, string closed, string said)
    {
        Write("actions.yaml", """
            - {id: done, what: Do it, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05, closed: 2026-01-09, effect: Done}
            - {closes: 2026-01-GHJKLM-1, closed: 2026-02-28, effect: Done}
            """);
        Write("minutes/a.json", Minutes.Replace("\"actions\": [", "\"actions\": [\n{\"id\": \"2026-01-GHJKLM-1\", \"what\": \"x\", "
            + "\"owner\": \"lead\", \"due\": \"2026-03-31\"},", StringComparison.Ordinal));
        Write("minutes/b.json", Closes(id, closed));
        var refused = Refused();
        Assert.Contains(said, refused, StringComparison.Ordinal);
        Assert.StartsWith("minutes/b.json:3", refused, StringComparison.Ordinal);
        Assert.DoesNotContain("secretword", refused, StringComparison.OrdinalIgnoreCase);
    }

    private static string Closes(params string[] idsAndDays) => $$"""
        {"format": "outcomes-minutes", "version": 1, "pipeline": "harbour", "month": "2026-02", "held": "2026-03-10",
        "closed": [
        {{string.Join(",\n", idsAndDays.Chunk(2).Select((pair, i) =>
            $$"""{"id": "{{pair[0]}}", "closed": "{{pair[1]}}", "effect": "Secretword {{i}}"}"""))}}
        ]}
        """;

    [Fact]
    public void What_a_meeting_learned_is_read_with_its_month_and_date()
    {
        Write("minutes/b.json", Minutes.Replace("\"learning\": \"Secretword\"", "\"learning\": \" \"", StringComparison.Ordinal)
            .Replace("2026-01", "2026-02", StringComparison.Ordinal).Replace("2026-02-10", "2026-03-10", StringComparison.Ordinal));
        Write("pipeline.yaml", Pipeline);
        var learning = PipelineFile.Read(
            Path.Combine(_folder, "pipeline.yaml"), new Dictionary<string, string>(), withSources: false).Learning;
        Assert.Equal([(new Month(2026, 1), new DateOnly(2026, 2, 10), "Secretword"), (new Month(2026, 2), new DateOnly(2026, 3, 10), "")],
            learning.Select(each => (each.Month, each.Held, string.Join(';', each.Points))));
    }

    [Fact]
    public void Files_of_minutes_are_read_in_order_of_their_names_and_others_are_left_alone()
    {
        Write("minutes/b.json", Minutes.Replace("2026-01", "2026-02", StringComparison.Ordinal)
            .Replace("2026-02-10", "2026-03-10", StringComparison.Ordinal));
        Write("minutes/notes.txt", "Secretword");
        Assert.Equal(["2026-01-ABCDEF-1", "2026-02-ABCDEF-1"], Read().Select(action => action.Id));
    }

    [Fact]
    public void Minutes_with_no_case_and_no_action_are_minutes() => Assert.Empty(ReadOf(Without("cases", "actions")));

    // JSON writes such texts with escapes, and with characters beyond the first 65,536.
    [Fact]
    public void Every_text_that_json_can_write_is_read()
    {
        var action = Assert.Single(ReadOf(Minutes.Replace("\"what\": \"Secretword\"", """
            "what": "a\tb\n\"c\"\\ \/ \u0041 \b\f: # {x} [y] 😀 é"
            """.Trim(), StringComparison.Ordinal)));
        Assert.Equal("a\tb\n\"c\"\\ / A \b\f: # {x} [y] 😀 é", action.What);
    }

    [Theory]
    [InlineData("\"format\": \"outcomes-minutes\"", "\"format\": \"other\"", 2, "save them from the meeting page")]
    [InlineData("\"version\": 1", "\"version\": 2", 3, "version 1")]
    [InlineData("\"pipeline\": \"harbour\"", "\"pipeline\": \"hill\"", 4, "another pipeline")]
    [InlineData("\"month\": \"2026-01\"", "\"month\": \"January\"", 5, "2026-03")]
    [InlineData("\"held\": \"2026-02-10\"", "\"held\": \"\"", 6, "`held` is missing")]
    [InlineData("\"held\": \"2026-02-10\"", "\"held\": \"2025-12-31\"", 6, "before the month")]
    [InlineData("\"nursing\": 1", "\"nursing\": 100", 8, "0 to 99")]
    [InlineData("\"nursing\": 1", "\"surname\": 1", 8, "unknown key")]
    [InlineData("\"id\": \"ABCDEF\"", "\"id\": \"Secretword\"", 12, "a case id")]
    [InlineData("\"harm\": \"low\"", "\"harm\": \"Secretword\"", 16, "none, low, moderate, severe, death")]
    [InlineData("\"happened\": \"Secretword\"", "\"happened\": \"Mr Secretword Jones\"", 13, "identifies a person")]
    [InlineData("\"helped\": \"Secretword\"", "\"helped\": \"ann@secretword.org\"", 22, "identifies a person")]
    [InlineData("\"candour_role\": \"secretword\"", "\"candour_role\": \"Ann Secretword\"", 18, "name a role")]
    [InlineData("\"owner\": \"secretword\"", "\"owner\": \"Ann Secretword\"", 34, "name a role")]
    [InlineData("\"owner\": \"secretword\"", "\"owner\": \" \"", 34, "`owner` is missing")]
    [InlineData("\"due\": \"2026-03-31\",", "", 28, "`due` is missing")]
    [InlineData("\"due\": \"2026-03-31\"", "\"due\": \"2026-02-09\"", 35, "before the meeting")]
    [InlineData("\"measure\": \"first_pass\"", "\"measure\": \"<Secretword>\"", 36, "small letters")]
    [InlineData("\"measure\": \"first_pass\",", "", 36, "needs the `measure`")]
    [InlineData("\"measure_by\": \"2026-09-30\"", "\"measure_by\": \"2026-01-01\"", 37, "before the action was decided")]
    [InlineData("\"id\": \"2026-01-ABCDEF-1\"", "\"id\": \"Secretword\"", 29, "2026-01-general-1")]
    [InlineData("\"id\": \"2026-01-ABCDEF-1\"", "\"id\": \"2025-12-ABCDEF-1\"", 29, "2026-01-general-1")]
    [InlineData("\"ABCDEF\": 2", "\"ABCDEF\": 0", 41, "last number of an action")]
    [InlineData("\"ABCDEF\": 2", "\"Secretword\": 2", 41, "last number of an action")]
    [InlineData("\"what\": \"Secretword\",", "\"what\": \"Secretword\",,", 0, "save them again from the meeting page")]
    [InlineData("\"what\": \"Secretword\",", "\"what\": \"Secretword\", \"what\": \"Secretword\",", 0,
        "save them again from the meeting page")]
    public void Broken_minutes_are_exit_3_by_file_and_line_and_print_nothing_of_their_text(
        string right, string wrong, int line, string said)
    {
        Assert.Contains(right, Minutes, StringComparison.Ordinal);
        var failure = Assert.Throws<Failure>(() => ReadOf(Minutes.Replace(right, wrong, StringComparison.Ordinal)));
        Assert.Equal(ExitCode.Definition, failure.Code);
        Assert.Equal("minutes/a.json", failure.File);
        if (line > 0) Assert.InRange(failure.Line, line - 1, line + 1);
        Assert.Contains(said, failure.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("secretword", failure.Message, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Minutes_that_end_too_early_are_refused_wherever_they_end()
    {
        for (var length = 1; length < Minutes.TrimEnd().Length; length += 13)
        {
            var failure = Assert.Throws<Failure>(() => ReadOf(Minutes[..length]));
            Assert.Equal((ExitCode.Definition, "minutes/a.json"), (failure.Code, failure.File));
            Assert.DoesNotContain("secretword", failure.Message, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public void One_id_in_two_places_is_an_error_that_names_both()
    {
        Write("minutes/b.json", Minutes);
        Assert.Matches("^minutes/b.json:28: .*stands twice, first at minutes/a.json:28; give one", Refused());
        File.Delete(Path.Combine(_folder, "minutes", "b.json"));
        Write("actions.yaml", "- {id: 2026-01-ABCDEF-1, what: Do it, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05}\n");
        Assert.Matches("^minutes/a.json:28: .*stands twice, first at actions.yaml:1; give one", Refused());
    }

    [Theory]
    [InlineData("- {closes: 2026-01-ABCDEG-1, closed: 2026-03-02}", "did you mean `2026-01-ABCDEF-1`")]
    [InlineData("- {closes: 2026-01-ABCDEF-1, closed: 2026-02-09}", "before the meeting that decided it, at minutes/a.json:28")]
    [InlineData("- {closes: 2026-01-ABCDEF-1, closed: 2026-03-02}\n- {closes: 2026-01-ABCDEF-1, closed: 2026-03-03}",
        "closed twice, first at actions.yaml:1")]
    [InlineData("- {id: own, what: Do, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05}\n- {closes: own, closed: 2026-03-02}",
        "at actions.yaml:1; write `closed`")]
    [InlineData("- {closes: 2026-01-ABCDEF-1, closed: 2026-03-02, owner: lead nurse}", "unknown key `owner`")]
    public void A_closing_that_fits_no_action_of_minutes_is_refused(string actions, string said)
    {
        Write("actions.yaml", actions + "\n");
        Assert.Contains(said, Refused(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_named_at_its_line()
    {
        Write("pipeline.yaml", Pipeline.Replace("minutes: minutes", "minutes: meetings", StringComparison.Ordinal));
        var failure = Assert.Throws<Failure>(() => ReadPipeline());
        Assert.Equal((ExitCode.Definition, 5), (failure.Code, failure.Line));
        Assert.Contains("no such folder", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_name_with_a_name_in_it_is_called_by_its_place()
    {
        File.Delete(Path.Combine(_folder, "minutes", "a.json"));
        Write("minutes/ann@secretword.org.json", "{");
        Assert.StartsWith("minutes/file 1:", Refused(), StringComparison.Ordinal);
    }

    private string Refused() => Assert.Throws<Failure>(() => Read()).Message;

    private DepartmentAction[] ReadOf(string minutes)
    {
        Write("minutes/a.json", minutes);
        return Read();
    }

    private DepartmentAction[] Read()
    {
        Write("pipeline.yaml", Pipeline);
        return ReadPipeline();
    }

    private DepartmentAction[] ReadPipeline() =>
        [.. PipelineFile.Read(Path.Combine(_folder, "pipeline.yaml"), new Dictionary<string, string>(), withSources: false).Actions
            .Select(entry => entry.Action)];

    private static string Without(params string[] keys) => keys.Aggregate(Minutes,
        (text, key) => Regex.Replace(text, $",\n \"{key}\": \\[\n(  .*\n)* \\]", "", RegexOptions.None));

    private void Write(string file, string text) => File.WriteAllText(Path.Combine(_folder, file), text);
}
