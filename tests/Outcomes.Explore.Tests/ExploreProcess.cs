using System.Diagnostics;
using System.Net;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Explore;

/// <summary><c>outcomes explore</c> on the demo's pipeline, started once for the tests of a class, and a client that was let in.</summary>
public sealed class ExploreProcess : IAsyncLifetime
{
    private readonly Workspace _workspace = Workspace.WithShippedPipelines();
    private Process? _process;

    internal string Folder => _workspace.Folder;

    /// <summary>The address as it was printed, secret included.</summary>
    public string Address { get; private set; } = "";

    /// <summary>The address without the secret.</summary>
    public Uri Root => new(new Uri(Address).GetLeftPart(UriPartial.Path));

    /// <summary>Keeps the cookie and follows no redirect.</summary>
    public HttpClient Client { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        var start = new ProcessStartInfo("dotnet",
            [Path.Combine(Repository.ToolFolder, "outcomes.dll"), "explore", "pipelines/monthly.yaml", "--no-open"])
        {
            WorkingDirectory = Folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        _process = Process.Start(start)!;
        Address = await _process.StandardOutput.ReadLineAsync()
            ?? throw new InvalidOperationException(await _process.StandardError.ReadToEndAsync());
        Client = Stranger(new CookieContainer());
        var entered = await Client.GetAsync(Address);
        Assert.Equal(HttpStatusCode.SeeOther, entered.StatusCode);
    }

    /// <summary>A client that was not let in.</summary>
    public HttpClient Stranger(CookieContainer? cookies = null) => new(new HttpClientHandler
    {
        AllowAutoRedirect = false,
        UseCookies = cookies is not null,
        CookieContainer = cookies ?? new CookieContainer(),
    })
    { BaseAddress = Root };

    /// <summary>The body of a page, which must be there.</summary>
    public async Task<string> Get(string address)
    {
        var response = await Client.GetAsync(address, TestContext.Current.CancellationToken);
        var body = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(response.StatusCode == HttpStatusCode.OK, $"{response.StatusCode}: {body}");
        return body;
    }

    public ValueTask DisposeAsync()
    {
        Client?.Dispose();
        _process?.Kill(entireProcessTree: true);
        _process?.WaitForExit();
        _process?.Dispose();
        _workspace.Dispose();
        return ValueTask.CompletedTask;
    }
}
