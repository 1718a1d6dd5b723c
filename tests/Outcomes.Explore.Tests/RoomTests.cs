using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Explore;

/// <summary>Many questions at once, pages that are closed, questions that are kept, and what is counted of looking.</summary>
public sealed partial class RoomTests(ExploreProcess explore) : IClassFixture<ExploreProcess>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Ten_questions_at_once_are_all_answered_each_with_its_own_figures()
    {
        string[] questions =
            [.. Enumerable.Range(0, 10).Select(i => $"/answer.csv?measure=first_pass&among=age_years%20%3E%3D%20{20 + (5 * i)}")];
        var alone = new List<string>();
        foreach (var question in questions) alone.Add(await explore.Get(question));
        Assert.Equal(alone, await Task.WhenAll(questions.Select(explore.Get)));
        Assert.Equal(10, alone.Distinct().Count());
    }

    [Fact]
    public async Task Pages_that_are_closed_leave_nothing_behind()
    {
        await explore.Get("/quality");
        var before = Workspace.FilesIn(explore.Folder);
        for (var i = 0; i < 20; i++)
        {
            using var closed = CancellationTokenSource.CreateLinkedTokenSource(Stop);
            closed.CancelAfter(TimeSpan.FromMilliseconds(i));
            try
            {
                await explore.Client.GetAsync($"/?measure=first_pass&by=device&among=age_years%20%3E%20{i}", closed.Token);
            }
            catch (OperationCanceledException)
            {
                // The page was closed.
            }
        }

        Assert.Contains("158/175", await explore.Get("/?measure=first_pass"), StringComparison.Ordinal);
        Assert.Equal(before, Workspace.FilesIn(explore.Folder));
    }

    [Fact]
    public async Task Every_different_question_is_counted_once()
    {
        var first = Looked(await explore.Get("/?measure=hypotension&by=urgency"));
        Assert.Equal(first, Looked(await explore.Get("/?measure=hypotension&by=urgency")));
        Assert.Equal(first, Looked(await explore.Get("/?by=urgency&measure=hypotension&from=2025-04&to=2026-03")));
        Assert.Equal(first + 1, Looked(await explore.Get("/?measure=hypotension&by=device")));
    }

    [Fact]
    public async Task A_question_is_saved_as_text_that_asks_the_same_and_is_never_overwritten()
    {
        const string Question = "measure=first_pass&among=location_type%20%3D%20%27icu%27&by=device&from=2024-04&to=2026-03";
        var saved = await Save(Question, "Intensive care 1");
        Assert.Equal(HttpStatusCode.SeeOther, saved.StatusCode);
        Assert.Contains("saved as questions/intensive-care-1.yaml", await explore.Get(saved.Headers.Location!.OriginalString),
            StringComparison.Ordinal);
        var file = Path.Combine(explore.Folder, "pipelines", "questions", "intensive-care-1.yaml");
        var text = await File.ReadAllTextAsync(file, Stop);
        Assert.Contains("title: 'Intensive care 1'", text, StringComparison.Ordinal);
        var result = await ToolProcess.Run(explore.Folder, "explore", "pipelines/monthly.yaml", "--ask", file);
        Assert.Equal(await explore.Get("/answer.csv?" + Question), result.Output);
        var again = await Save("measure=hypotension", "Intensive care 1");
        Assert.Equal(HttpStatusCode.BadRequest, again.StatusCode);
        Assert.Equal(text, await File.ReadAllTextAsync(file, Stop));
        Assert.Equal(HttpStatusCode.BadRequest, (await Save(Question, "../outside")).StatusCode);
        Assert.Equal(HttpStatusCode.BadRequest, (await Save("measure=nothing", "nothing")).StatusCode);
        Assert.Single(Directory.GetFiles(Path.GetDirectoryName(file)!));
    }

    [Fact]
    public async Task A_snapshot_is_one_file_that_asks_nothing_and_holds_no_secret()
    {
        var page = await explore.Get("/?measure=first_pass&by=device");
        var snapshot = await explore.Get("/snapshot.html?measure=first_pass&by=device");
        Assert.DoesNotMatch("<script|<form|token|http://|<a href=\"/",
            snapshot.Replace("http://www.w3.org/", "", StringComparison.Ordinal));
        Assert.Contains("158/175", snapshot, StringComparison.Ordinal);
        Assert.DoesNotContain(Token().Match(page).Groups[1].Value, snapshot, StringComparison.Ordinal);
        Assert.Contains("For audit, teaching and improvement", snapshot, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_data_can_be_looked_through()
    {
        Assert.Contains("Known, by field and month", await explore.Get("/quality"), StringComparison.Ordinal);
        Assert.Contains("What became of every row", await explore.Get("/ledger"), StringComparison.Ordinal);
        Assert.Contains("unusual_record", await explore.Get("/unusual"), StringComparison.Ordinal);
        Assert.Contains("Confidential: review cases", await explore.Get("/cases"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await explore.Client.GetAsync("/nowhere", Stop)).StatusCode);
    }

    [Fact]
    public async Task Other_commands_load_no_web_server()
    {
        // The runtime itself writes down which assemblies it loads (event pipe, loader keyword 8).
        Assert.False(await LoadsServer("--help"));
        Assert.False(await LoadsServer("describe", "first_pass"));
        Assert.False(await LoadsServer("explore", "pipelines/monthly.yaml", "--ask", "measure=first_pass"));
        Assert.True(await LoadsServer("explore", "pipelines/monthly.yaml", "--no-open", "--port",
            explore.Root.Port.ToString(System.Globalization.CultureInfo.InvariantCulture)));
    }

    private async Task<bool> LoadsServer(params string[] arguments)
    {
        var trace = Path.Combine(explore.Folder, Guid.NewGuid().ToString("N") + ".nettrace");
        _ = await ToolProcess.Run(explore.Folder, new Dictionary<string, string?>
        {
            ["DOTNET_EnableEventPipe"] = "1",
            ["DOTNET_EventPipeConfig"] = "Microsoft-Windows-DotNETRuntime:8:4",
            ["DOTNET_EventPipeOutputPath"] = trace,
        }, arguments);
        var written = System.Text.Encoding.Latin1.GetString(await File.ReadAllBytesAsync(trace, Stop))
            .Replace("\0", "", StringComparison.Ordinal);
        File.Delete(trace);
        Assert.Contains("System.CommandLine", written, StringComparison.Ordinal);
        return written.Contains("Microsoft.AspNetCore", StringComparison.Ordinal);
    }

    private async Task<HttpResponseMessage> Save(string question, string name)
    {
        var token = Token().Match(await explore.Get("/?measure=first_pass")).Groups[1].Value;
        using var request = new HttpRequestMessage(HttpMethod.Post, "/save");
        request.Headers.Add("Origin", explore.Root.GetLeftPart(UriPartial.Authority));
        request.Content = new FormUrlEncodedContent([new("token", token), new("question", question), new("name", name)]);
        return await explore.Client.SendAsync(request, Stop);
    }

    private static int Looked(string page) =>
        int.Parse(Question().Match(page).Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);

    [GeneratedRegex("Question (\\d+) today")]
    private static partial Regex Question();

    [GeneratedRegex("name=\"token\" value=\"([0-9a-f]+)\"")]
    private static partial Regex Token();
}
