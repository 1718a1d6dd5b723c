using Microsoft.AspNetCore.Http;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Answers;
using Outcomes.Reporting.Cases;
using Outcomes.Reporting.Page;

namespace Outcomes.Explore;

/// <summary>Which page an address gives.</summary>
internal sealed class Routes(Room room, Guard guard, Looks looks)
{
    private const string Page = "text/html; charset=utf-8";

    /// <summary>Answers one request; whatever goes wrong becomes a page of ours.</summary>
    public async Task Serve(HttpContext context)
    {
        Guard.Seal(context.Response);
        try
        {
            await Admitted(context).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (context.RequestAborted.IsCancellationRequested)
        {
            // The page was closed: nobody waits for the answer.
        }
        catch (Failure failure)
        {
            await Message(context, StatusCodes.Status400BadRequest, "No answer", Sentence(failure)).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or BadHttpRequestException)
        {
            await Message(context, StatusCodes.Status400BadRequest, "No answer", "The request could not be read.").ConfigureAwait(false);
        }
        catch (Exception e)
        {
            // No message of the exception: it may hold a patient's value.
            await Message(context, StatusCodes.Status500InternalServerError, "Internal error",
                $"Please report it with the question, but without any data ({e.GetType().Name}).").ConfigureAwait(false);
        }
    }

    private async Task Admitted(HttpContext context)
    {
        if (guard.Refuse(context.Request) is var (status, why))
        {
            if (status == StatusCodes.Status403Forbidden && context.Request.Method == "GET" && guard.Admit(context))
                await Redirect(context, WithoutToken(context.Request)).ConfigureAwait(false);
            else
                await Message(context, status, "Not let in", why).ConfigureAwait(false);
            return;
        }

        await (context.Request.Method == "POST" ? Post(context) : Get(context)).ConfigureAwait(false);
    }

    private Task Get(HttpContext context) => context.Request.Path.Value switch
    {
        "/" => context.Request.Query.ContainsKey("token") ? Redirect(context, WithoutToken(context.Request)) : Ask(context),
        "/answer.svg" or "/answer.png" or "/answer.csv" or "/answer.json" or "/snapshot.html" => Files(context),
        "/quality" => Browse(context, report => BrowsePages.Quality(room.Frame, report.Figures, report.Completeness)),
        "/ledger" => Browse(context, report => BrowsePages.Ledger(room.Frame, report.Figures, report.Findings)),
        "/unusual" => Browse(context, report => BrowsePages.Unusual(room.Frame, report.Findings)),
        "/cases" => Browse(context, report => CasesPage.Utf8(report.Cases)),
        _ => Message(context, StatusCodes.Status404NotFound, "No such page", "There is no page at this address."),
    };

    private async Task Ask(HttpContext context)
    {
        var (query, stop) = (context.Request.Query, context.RequestAborted);
        var typed = Typed(query);
        var form = new ExploreForm
        {
            Measures = room.Plan.Definitions.Measures,
            Fields = room.Fields,
            Titles = room.Plan.Titles,
            Months = (room.First, room.Plan.Month),
            Typed = typed,
        };
        var content = new ExploreContent(room.Frame) { Token = guard.FormToken, Form = form };
        try
        {
            if (await Edited(query, typed, stop).ConfigureAwait(false) is { } edited)
            {
                await Redirect(context, "/?" + edited).ConfigureAwait(false);
                return;
            }

            content = content with
            {
                Form = form with { Parts = (await room.Read(query["among"].ToString(), stop).ConfigureAwait(false)).Parts },
            };
            var asked = query.ContainsKey("measure") ? QuestionText.Parse(context.Request.QueryString.Value ?? "") : Opening();
            var view = await room.Answer(asked, withReport: true, stop).ConfigureAwait(false);
            content = content with
            {
                Answer = view,
                Looks = query.ContainsKey("measure") ? Note(view) : looks.Count,
                Done = query["saved"].ToString() is { Length: > 0 and < 200 } saved ? $"The question is saved as {saved}." : "",
            };
        }
        catch (Failure failure)
        {
            context.Response.StatusCode = StatusCodes.Status400BadRequest;
            content = content with { Problem = Sentence(failure) };
        }

        await Send(context, Page, ExplorePage.Utf8(content)).ConfigureAwait(false);
    }

    // The condition with a part more or less, and the second cohort as all others: the question is then asked anew.
    private async Task<string?> Edited(IQueryCollection query, ILookup<string, string> typed, CancellationToken stop)
    {
        var (act, drop) = (query["do"].ToString(), query["drop"].ToString());
        if (act.Length == 0 && drop.Length == 0)
            return null;
        var among = await room.Read(query["among"].ToString(), stop).ConfigureAwait(false);
        var (key, text) = act switch
        {
            "rest" => ("versus", among.Text.Length > 0 ? $"not ({query["among"]})"
                : throw new Failure(ExitCode.Usage, "give the first cohort a condition; then all others can be compared with it")),
            "add" => ("among", ConditionBuilder.Add(among, Composed(query))),
            _ => ("among", ConditionBuilder.Remove(among, int.TryParse(drop, out var at) ? at : -1)),
        };
        return string.Join('&',
            typed.Where(group => group.Key is not ("do" or "drop" or "field" or "comparison" or "value") && group.Key != key)
                .SelectMany(group => group.Select(value => (group.Key, Value: value))).Append((Key: key, Value: text))
                .Where(pair => pair.Value.Length > 0).Select(pair => $"{pair.Key}={Uri.EscapeDataString(pair.Value)}"));
    }

    private string Composed(IQueryCollection query) => room.Fields.FirstOrDefault(field => field.Use.Name == query["field"]).Use is { } use
        ? ConditionBuilder.Compose(use, query["comparison"].ToString(), query["value"].ToString(), room.Plan.Titles)
        : throw new Failure(ExitCode.Usage, "choose a field of the list first");

    private async Task Files(HttpContext context)
    {
        var view = await room.Answer(QuestionText.Parse(context.Request.QueryString.Value ?? ""), withReport: true, context.RequestAborted)
            .ConfigureAwait(false);
        var name = Encode.Slug(view.Answer.Asked.Measure.Id);
        var extension = Path.GetExtension(context.Request.Path.Value!);
        var (type, bytes) = extension switch
        {
            ".svg" => ("image/svg+xml", AnswerFiles.Svg(view)),
            ".png" => ("image/png", AnswerFiles.Png(view)),
            ".csv" => ("text/csv; charset=utf-8", AnswerFiles.Csv(view)),
            ".json" => ("application/json", AnswerFiles.Json(view)),
            _ => (Page, ExplorePage.Snapshot(view, Note(view))),
        };
        context.Response.Headers.ContentDisposition = $"attachment; filename=\"{name}{extension}\"";
        await Send(context, type, bytes).ConfigureAwait(false);
    }

    private async Task Post(HttpContext context)
    {
        if (context.Request.Path != "/save" || !context.Request.HasFormContentType)
        {
            await Message(context, StatusCodes.Status404NotFound, "No such page", "There is no page at this address.")
                .ConfigureAwait(false);
            return;
        }

        var form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        if (!guard.IsOurForm(form))
        {
            await Message(context, StatusCodes.Status403Forbidden, "Not saved", "The form is not of this page; ask again and save then.")
                .ConfigureAwait(false);
            return;
        }

        var question = QuestionText.Parse(form["question"].ToString());
        _ = await room.Answer(question, withReport: false, context.RequestAborted).ConfigureAwait(false);
        var name = form["name"].ToString().Trim();
        if (name.Length is 0 or > 60 || !name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is ' ' or '_' or '-'))
            throw new Failure(ExitCode.Usage, "a question’s name has letters, digits, spaces, _ and -, 60 at most");
        var saved = room.Save(Encode.Slug(name), question with { Title = question.Title.Length > 0 ? question.Title : name });
        await Redirect(context, $"/?{QuestionText.Query(question)}&saved={Uri.EscapeDataString(saved)}").ConfigureAwait(false);
    }

    private async Task Browse(HttpContext context, Func<RoomReport, byte[]> page) =>
        await Send(context, Page, page(await room.Report.WaitAsync(context.RequestAborted).ConfigureAwait(false))).ConfigureAwait(false);

    // Before the first question stands the report's own, of its first headline measure.
    private QuestionDefinition Opening() =>
        new(room.Plan.Headline.FirstOrDefault() ?? room.Plan.Definitions.Measures.First().Id);

    private int Note(AnswerView view) => looks.Note(QuestionText.Query(view.Answer.Asked.Settled with { Title = "" }));

    // The secret of the address does not stay in it: neither in the history nor in a link that is copied.
    private static string WithoutToken(HttpRequest request)
    {
        var rest = (request.QueryString.Value ?? "").TrimStart('?').Split('&', StringSplitOptions.RemoveEmptyEntries)
            .Where(pair => !pair.StartsWith("token=", StringComparison.Ordinal)).ToArray();
        // One slash only: two would be another server's name.
        var path = "/" + request.Path.Value!.TrimStart('/', '\\');
        return rest.Length == 0 ? path : path + "?" + string.Join('&', rest);
    }

    private static ILookup<string, string> Typed(IQueryCollection query) =>
        query.SelectMany(pair => pair.Value.Select(value => (pair.Key, Value: value ?? ""))).ToLookup(pair => pair.Key, pair => pair.Value);

    private static string Sentence(Failure failure) =>
        char.ToUpperInvariant(failure.Reason[0]) + failure.Reason[1..].TrimEnd('.') + ".";

    private static Task Redirect(HttpContext context, string to)
    {
        context.Response.StatusCode = StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = to;
        return Task.CompletedTask;
    }

    private async Task Message(HttpContext context, int status, string title, string sentence)
    {
        if (context.Response.HasStarted)
            return;
        context.Response.StatusCode = status;
        _ = context.Response.Headers.Remove("Content-Disposition");
        await Send(context, Page, ExplorePage.Message(room.Frame, title, sentence)).ConfigureAwait(false);
    }

    private static async Task Send(HttpContext context, string type, byte[] bytes)
    {
        context.Response.ContentType = type;
        context.Response.ContentLength = bytes.Length;
        if (context.Request.Method != "HEAD")
            await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}
