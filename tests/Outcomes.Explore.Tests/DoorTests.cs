using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Explore;

/// <summary>Who is let in: the person at this machine, by the printed address, and nobody by any other way.</summary>
public sealed class DoorTests(ExploreProcess explore) : IClassFixture<ExploreProcess>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static TheoryData<string> Pages =>
    [
        "/", "/?measure=first_pass", "/answer.csv?measure=first_pass", "/answer.svg?measure=first_pass",
        "/snapshot.html?measure=first_pass", "/quality", "/ledger", "/unusual", "/cases", "/none",
    ];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Without_the_secret_no_page_says_anything_of_the_records(string page)
    {
        using var stranger = explore.Stranger();
        foreach (var address in new[] { page, page + (page.Contains('?') ? "&" : "?") + "token=" + new string('0', 48) })
        {
            var response = await stranger.GetAsync(address, Stop);
            var body = await response.Content.ReadAsStringAsync(Stop);
            Assert.Equal(HttpStatusCode.Forbidden, response.StatusCode);
            Assert.Contains("Open the address that the program printed", body, StringComparison.Ordinal);
            Assert.DoesNotContain("158/175", body, StringComparison.Ordinal);
            Assert.DoesNotContain(response.Headers, header => header.Key == "Set-Cookie");
        }
    }

    [Fact]
    public async Task The_secret_is_exchanged_for_a_cookie_that_no_other_site_can_send_and_leaves_the_address()
    {
        using var stranger = explore.Stranger();
        var response = await stranger.GetAsync(explore.Address + "&measure=hypotension", Stop);
        Assert.Equal(HttpStatusCode.SeeOther, response.StatusCode);
        Assert.Equal("/?measure=hypotension", response.Headers.Location!.ToString());
        var cookie = Assert.Single(response.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(explore.Address.Split("token=")[1], cookie, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/quality", "/quality")]
    [InlineData("//example.org/", "/example.org/")]
    [InlineData("/\\example.org", "/example.org")]
    public async Task The_secret_leads_to_a_page_of_this_server_alone(string path, string to)
    {
        using var stranger = explore.Stranger();
        using var request = new HttpRequestMessage(HttpMethod.Get,
            new Uri(explore.Root.GetLeftPart(UriPartial.Authority) + path + "?token=" + explore.Address.Split("token=")[1],
                new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true }));
        Assert.Equal(to, (await stranger.SendAsync(request, Stop)).Headers.Location!.OriginalString);
    }

    [Theory]
    [InlineData("example.org")]
    [InlineData("127.0.0.1")]
    [InlineData("127.0.0.1:1")]
    [InlineData("127.0.0.1.example.org")]
    public async Task A_name_that_points_here_from_elsewhere_gets_no_answer(string host)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/?measure=first_pass");
        request.Headers.Host = host;
        Assert.Equal(HttpStatusCode.MisdirectedRequest, (await explore.Client.SendAsync(request, Stop)).StatusCode);
    }

    [Theory]
    [InlineData("GET", "http://example.org")]
    [InlineData("GET", "null")]
    [InlineData("POST", "http://example.org")]
    [InlineData("POST", "https://127.0.0.1")]
    [InlineData("POST", null)]
    public async Task A_page_of_another_site_cannot_ask_or_save(string method, string? origin)
    {
        using var request = new HttpRequestMessage(new(method), method == "GET" ? "/?measure=first_pass" : "/save");
        if (origin is not null) request.Headers.Add("Origin", origin);
        if (method == "POST")
            request.Content = new FormUrlEncodedContent([new("question", "measure=first_pass"), new("name", "taken")]);
        Assert.Equal(HttpStatusCode.Forbidden, (await explore.Client.SendAsync(request, Stop)).StatusCode);
        Assert.False(Directory.Exists(Path.Combine(explore.Folder, "pipelines", "questions")));
    }

    [Fact]
    public async Task A_form_that_is_not_of_the_page_saves_nothing()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/save");
        request.Headers.Add("Origin", explore.Root.GetLeftPart(UriPartial.Authority));
        request.Content = new FormUrlEncodedContent([new("token", "wrong"), new("question", "measure=first_pass"), new("name", "taken")]);
        Assert.Equal(HttpStatusCode.Forbidden, (await explore.Client.SendAsync(request, Stop)).StatusCode);
        Assert.False(Directory.Exists(Path.Combine(explore.Folder, "pipelines", "questions")));
    }

    [Fact]
    public async Task Other_ways_of_asking_are_refused()
    {
        using var request = new HttpRequestMessage(HttpMethod.Put, "/");
        Assert.Equal(HttpStatusCode.MethodNotAllowed, (await explore.Client.SendAsync(request, Stop)).StatusCode);
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Every_answer_forbids_what_it_does_not_need(string page)
    {
        var response = await explore.Client.GetAsync(page, Stop);
        var policy = Assert.Single(response.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Matches("script-src 'sha256-[^']+';", policy);
        Assert.DoesNotMatch("https?:|unsafe-eval|script-src[^;]*unsafe-inline|\\*", policy);
        Assert.Equal("nosniff", Assert.Single(response.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("no-store", response.Headers.CacheControl!.ToString());
        Assert.DoesNotContain(response.Headers, header => header.Key == "Server");
    }

    [Fact]
    public void It_listens_on_this_machine_alone()
    {
        var own = NetworkInterface.GetAllNetworkInterfaces().SelectMany(each => each.GetIPProperties().UnicastAddresses)
            .Select(each => each.Address)
            .Where(each => each.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(each)).ToArray();
        Assert.SkipWhen(own.Length == 0, "this machine has no address but the loopback");
        foreach (var address in own)
            Assert.Throws<SocketException>(() => new TcpClient().Connect(address, explore.Root.Port));
    }

    [Theory]
    [InlineData("0.0.0.0")]
    [InlineData("::")]
    [InlineData("192.0.2.1")]
    [InlineData("example.org")]
    public async Task An_address_that_others_could_reach_is_refused(string address)
    {
        var result = await ToolProcess.Run(explore.Folder, "explore", "pipelines/monthly.yaml", "--no-open", "--address", address);
        Assert.Equal(2, result.Exit);
        Assert.Contains("is no loopback address", result.Error, StringComparison.Ordinal);
        Assert.Empty(result.Output);
    }

    [Fact]
    public async Task A_port_that_is_taken_is_said_in_a_sentence()
    {
        var result = await ToolProcess.Run(explore.Folder, "explore", "pipelines/monthly.yaml", "--no-open", "--port",
            explore.Root.Port.ToString(System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(2, result.Exit);
        Assert.Contains("is in use", result.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("network")]
    [InlineData("public")]
    public async Task A_pipeline_for_others_is_not_explored(string audience)
    {
        var path = Path.Combine(explore.Folder, "pipelines", audience + ".yaml");
        await File.WriteAllTextAsync(path, (await File.ReadAllTextAsync(Path.Combine(explore.Folder, "pipelines", "monthly.yaml"), Stop))
            .Replace("audience: department", "audience: " + audience, StringComparison.Ordinal), Stop);
        foreach (var way in new[] { "--no-open", "--ask=measure=first_pass" })
        {
            var result = await ToolProcess.Run(explore.Folder, "explore", path, way);
            Assert.Equal(2, result.Exit);
            Assert.Contains("audience: department", result.Error, StringComparison.Ordinal);
        }
    }
}
