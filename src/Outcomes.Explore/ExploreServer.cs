using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Outcomes.Records;

namespace Outcomes.Explore;

/// <summary>A web server for one person at one machine: it listens on a loopback address and asks nothing of anywhere.</summary>
public sealed class ExploreServer : IAsyncDisposable
{
    private const long LongestBody = 64 * 1024;

    private readonly WebApplication _app;
    private readonly Guard _guard;

    private ExploreServer(WebApplication app, Guard guard, Uri root) => (_app, _guard, Root) = (app, guard, root);

    /// <summary>Where it listens.</summary>
    public Uri Root { get; }

    /// <summary>The address that lets a person in.</summary>
    public string Address => $"{Root}?token={_guard.Token}";

    /// <summary>The same for one use, to start a browser with.</summary>
    public string AddressForOnce() => $"{Root}?token={_guard.Once()}";

    /// <summary>Starts to listen.</summary>
    /// <param name="room">What is explored.</param>
    /// <param name="address">A loopback address.</param>
    /// <param name="port">The port; 0 for any that is free.</param>
    /// <param name="clock">Says what day it is.</param>
    /// <exception cref="Failure">The address is no loopback address, or the port is taken (exit 2).</exception>
    public static async Task<ExploreServer> Start(Room room, string address, int port, TimeProvider clock)
    {
        var listen = Loopback(address);
        // Empty: no setting of the environment or of a file can make it listen anywhere else.
        var builder = WebApplication.CreateEmptyBuilder(new());
        builder.Services.AddSingleton<IHostLifetime, NoLifetime>();
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LongestBody;
            kestrel.Listen(listen, port);
        });
        var app = builder.Build();
        Routes? routes = null;
        app.Run(context => routes!.Serve(context));
        try
        {
            await app.StartAsync().ConfigureAwait(false);
        }
        catch (IOException)
        {
            await app.DisposeAsync().ConfigureAwait(false);
            throw new Failure(ExitCode.Usage, $"port {port} is in use or not allowed; leave --port out for one that is free");
        }

        var root = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        var guard = new Guard(root.Port);
        routes = new Routes(room, guard, new Looks(clock));
        return new(app, guard, root);
    }

    /// <summary>Serves until the program ends.</summary>
    public Task Serve() => _app.WaitForShutdownAsync();

    public async ValueTask DisposeAsync() => await _app.DisposeAsync().ConfigureAwait(false);

    /// <summary>Refuses an address at which others could reach the records.</summary>
    /// <exception cref="Failure">It is no loopback address (exit 2).</exception>
    public static void RequireLoopback(string address) => _ = Loopback(address);

    private static IPAddress Loopback(string address) =>
        (address == "localhost" ? IPAddress.Loopback : IPAddress.TryParse(address, out var found) ? found : null) is { } listen
            && IPAddress.IsLoopback(listen)
            ? listen
            : throw new Failure(ExitCode.Usage,
                $"`{address}` is no loopback address; the records are shown on this machine alone, so use 127.0.0.1 or ::1");

    // The command line watches for the end itself.
    private sealed class NoLifetime : IHostLifetime
    {
        public Task WaitForStartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
    }
}
