using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;
using Outcomes.Reporting.Answers;

namespace Outcomes.Explore;

/// <summary>
/// Lets in the person at this machine alone. The address carries a secret; it is exchanged for a cookie that no other site's page can send,
/// and it must be this server's own name that was asked for, so that no name that points here from elsewhere gets an answer.
/// </summary>
internal sealed class Guard(int port)
{
    private readonly string _cookie = Secret();
    private readonly ConcurrentDictionary<string, bool> _once = new();

    /// <summary>The secret in the printed address.</summary>
    public string Token { get; } = Secret();

    /// <summary>What a form that saves brings back.</summary>
    public string FormToken { get; } = Secret();

    private string CookieName => $"outcomes-{port}";

    /// <summary>A secret that opens the door once: another program may see the address that a browser is started with.</summary>
    public string Once()
    {
        var secret = Secret();
        _once[secret] = true;
        return secret;
    }

    /// <summary>Why a request is refused; null where it is not.</summary>
    public (int Status, string Why)? Refuse(HttpRequest request)
    {
        string[] hosts = [$"127.0.0.1:{port}", $"localhost:{port}", $"[::1]:{port}"];
        if (!hosts.Contains(request.Headers.Host.ToString(), StringComparer.OrdinalIgnoreCase))
            return (StatusCodes.Status421MisdirectedRequest,
                "This server answers to its own address alone; open the address that it printed.");
        if (request.Method is not ("GET" or "HEAD" or "POST"))
            return (StatusCodes.Status405MethodNotAllowed, "This server only shows pages and saves questions.");
        var origin = request.Headers.Origin.ToString();
        if (origin != $"http://{request.Headers.Host}" && (origin.Length > 0 || request.Method == "POST"))
            return (StatusCodes.Status403Forbidden, "A page of another site asked; nothing was done.");
        return HasCookie(request)
            ? null
            : (StatusCodes.Status403Forbidden, "Open the address that the program printed: it carries the key to this page.");
    }

    /// <summary>Exchanges the secret of the address for the cookie.</summary>
    /// <returns>False where the address carries none, or a wrong one.</returns>
    public bool Admit(HttpContext context)
    {
        var token = context.Request.Query["token"].ToString();
        if (token.Length == 0 || !(Same(token, Token) || _once.TryRemove(token, out _)))
            return false;
        context.Response.Cookies.Append(CookieName, _cookie,
            new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/" });
        return true;
    }

    public bool IsOurForm(IFormCollection form) => Same(form["token"].ToString(), FormToken);

    /// <summary>What every answer says to the browser.</summary>
    public static void Seal(HttpResponse response)
    {
        var headers = response.Headers;
        headers.ContentSecurityPolicy = ExplorePage.Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers.CacheControl = "no-store";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
    }

    private bool HasCookie(HttpRequest request) => request.Cookies[CookieName] is { } cookie && Same(cookie, _cookie);

    private static bool Same(string one, string other) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(one), Encoding.UTF8.GetBytes(other));

    private static string Secret() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));
}
