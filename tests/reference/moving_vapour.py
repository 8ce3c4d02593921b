"""Times of moist layups by a model written apart from the program's: the same equations on equal
cells by the method of lines, marched by SciPy's stiff BDF, and extrapolated from two meshes.

Called by regenerate.py.

Equations: heat and water of each node; vapour by Stefan's law between nodes with a cut-off where
steam flows; isotherm and heat of sorption of viscose; gaps with natural convection (Hollands et al.
1976) and radiation; a copper disc with a film of water. Water conducts no heat here. Layups are those
of layups/moist-*.toml under exposure check-80.
"""
import sys, numpy as np
from scipy.integrate import solve_ivp
SB=5.670374419e-8; RV=461.5; P=101325.0
def k_air(T): 
    x=np.clip(T,200,2300)*1e-3
    return np.polyval([-3.559932e-03,2.150596e-02,-4.948726e-02,9.849493e-02,6.671396e-04],x)
def psat(T): return np.exp(23.5771-4042.9/(np.maximum(T,240)-37.58))
def phi(q):
    z=q/0.578; b=1.583-0.941*z; r=np.sqrt(b*b+1.620408*z*z)
    return np.where(b>0,2*0.405102*z/(b+r),(r-b)/(2*np.maximum(z,1e-30)))
def cap(x,n):
    x=np.maximum(x,0)
    return np.where(x>1,1/(1+np.maximum(x,1)**(-n))**(1/n),np.minimum(x,1)/(1+np.minimum(x,1)**n)**(1/n))
H0=1.17e6
def Q(q): return H0/(1+3.5*q)
def act(q,T): return cap(phi(q)*np.exp(-(Q(q)/RV)*(1/T-1/298.15)),20)
def D(T): return 2.19e-5*(T/273.15)**1.81
def Lam(p,e):
    u=1-p/P
    return np.where(u>e,-np.log(np.maximum(u,e)),-np.log(e)+(e-u)/e)
hl=lambda T:4187*(T-273.15)
hv=lambda T:2.501e6+1890*(T-273.15)
TS=250+10*np.arange(151)
class Law:
    def __init__(s,v): s.v=v; s.i=np.concatenate([[0],np.cumsum(0.5*(v[1:]+v[:-1])*10)])
    def at(s,T): return np.interp(T,TS,s.v)
    def integral(s,T):
        T=np.clip(T,250,1749.999); k=((T-250)//10).astype(int); x=T-TS[k]
        return s.i[k]+s.v[k]*x+0.5*(s.v[k+1]-s.v[k])/10*x*x
def nusselt(dT,Tm,d):
    if dT<=0: return 1.0
    x=Tm*1e-3
    nu=np.polyval([6.639371e-06,-3.668797e-05,1.319956e-04,2.311912e-05,-2.104263e-06],x)
    al=np.polyval([-1.455544e-05,8.974775e-05,-2.027127e-04,2.893092e-04,7.979120e-06,-1.326738e-06],x)
    ra=9.80665*dT*d**3/(Tm*nu*al)
    v=1.0
    if ra>1708: v+=1.44*(1-1708/ra)
    if ra>5830: v+=(ra/5830)**(1/3)-1
    return v
def run(case,film=None,front_T='film',tend=70,ncell=30,rtol=1e-6):
    T0=298.15; q_rad0=case['drive'][3]
    nodes=[]; first=[]
    left=1.0; parts=[]
    for s in case['slabs']:
        dx=s['L']/ncell
        x=np.arange(ncell+1)*dx
        sh=np.full(ncell+1,dx); sh[0]=sh[-1]=dx/2
        dep=np.zeros(ncell+1)
        if s['ext']==0: dep[0]=left; left=0
        else:
            edges=np.concatenate([[0],x[:-1]+dx/2,[s['L']]]); tr=left*np.exp(-s['ext']*edges)
            dep=tr[:-1]-tr[1:]; left=tr[-1]
        parts.append((s,dx,sh,dep,Law(s['k']),Law(s['c'])))
    n=sum(len(p[2]) for p in parts)+1
    h,Tg,pg,qr,em,Tsur,cap_d=case['drive']
    lump=np.zeros(n)
    idx=0
    spans=[]
    for p in parts:
        spans.append((idx,idx+ncell)); idx+=ncell+1
    for (a,b),(d,ex,ca) in zip(spans,case['air']):
        lump[b]+=ca/2; lump[b+1]+=ca/2
    lump[-1]+=cap_d
    dep=np.concatenate([p[3] for p in parts]+[[0.0]]); dep[-1]+=left
    c65=np.concatenate([p[2]*p[0]['b65'] for p in parts]+[[1e-4]])
    V=np.concatenate([p[2]*p[0]['por'] for p in parts]+[[0.0]])
    w0=np.concatenate([p[2]*p[0]['held'] for p in parts]+[[0.5e-4]])
    def pv(T,w):
        q=w/c65; a=act(np.maximum(q,0),T); a[-1]=cap(np.array([q[-1]]),8)[0]
        return a*psat(T)
    def stored(T,w):
        q=w/c65; p=pv(T,w); rho=p/(RV*T)
        E=lump*T+w*hl(T)+V*rho*hv(T)
        b=c65*(H0/3.5)*np.log1p(3.5*np.maximum(q,0)); b[-1]=0
        E-=b
        for (a,bb),pt in zip(spans,parts): E[a:bb+1]+=pt[2]*pt[5].integral(T[a:bb+1])
        return E,w+V*rho
    def rates(T,w):
        p=pv(T,w); R=dep*qr; G=np.zeros(n); q=w/c65
        Tf=0.5*(Tg+T[0])
        if film is None: fl=k_air(Tf)/h if h>0 else np.inf
        else: fl=film
        Tm=Tf if front_T=='film' else T[0]
        J=D(Tm)*P/(RV*Tm)/fl*(Lam(pg,1e-6)-Lam(p[0],1e-6))
        R[0]+=h*(Tg-T[0])-em*SB*(T[0]**4-Tsur**4)+J*hv(T[0]); G[0]+=J
        for (a,b),pt in zip(spans,parts):
            s,dx=pt[0],pt[1]; t=T[a:b+1]
            pot=pt[4].integral(t)
            qk=(pot[:-1]-pot[1:])/dx+s['kwet']*0.5*(np.maximum(q[a:b]-1,0)+np.maximum(q[a+1:b+1]-1,0))*(t[:-1]-t[1:])/dx
            Tm=0.5*(t[:-1]+t[1:]); lam=Lam(p[a:b+1],s['e'])
            J=D(Tm)*P/(RV*Tm)*s['open']/dx*(lam[:-1]-lam[1:])
            qk=qk+J*np.where(J>0,hv(t[:-1]),hv(t[1:]))
            R[a:b]-=qk; R[a+1:b+1]+=qk; G[a:b]-=J; G[a+1:b+1]+=J
        for (a,b),(d,ex,ca) in zip(spans,case['air']):
            Tm=0.5*(T[b]+T[b+1]); nus=nusselt(T[b]-T[b+1],Tm,d)
            lam=Lam(p[b:b+2],1e-6)
            J=D(Tm)*P/(RV*Tm)*nus/d*(lam[0]-lam[1])
            qk=nus*k_air(Tm)/d*(T[b]-T[b+1])+ex*SB*(T[b]**4-T[b+1]**4)+J*hv(T[b] if J>0 else T[b+1])
            R[b]-=qk; R[b+1]+=qk; G[b]-=J; G[b+1]+=J
        return R,G
    ws=np.maximum(w0,1e-6)
    def f(t,y):
        T=y[:n]; w=y[n:]*ws
        R,G=rates(T,w)
        dT=1e-3; dw=1e-5*np.maximum(w,1e-9)
        Ep,Wp=stored(T+dT,w); Em,Wm=stored(T-dT,w)
        Et,Wt=(Ep-Em)/(2*dT),(Wp-Wm)/(2*dT)
        Ep,Wp=stored(T,w+dw); Em,Wm=stored(T,w-dw)
        Ew,Ww=(Ep-Em)/(2*dw),(Wp-Wm)/(2*dw)
        det=Et*Ww-Ew*Wt
        return np.concatenate([(R*Ww-Ew*G)/det,(Et*G-Wt*R)/det/ws])
    ev1=lambda t,y:y[n-1]-T0-12; ev2=lambda t,y:y[n-1]-T0-24; ev2.terminal=True
    # sparsity: neighbours, both fields
    from scipy.sparse import diags,bmat
    A=diags([1,1,1],[-1,0,1],shape=(n,n)); sp=bmat([[A,A],[A,A]])
    sol=solve_ivp(f,(0,tend),np.concatenate([np.full(n,T0),w0/ws]),method='BDF',rtol=rtol,atol=1e-8,jac_sparsity=sp,events=[ev1,ev2],first_step=1e-5)
    return [e[0] if len(e) else None for e in sol.t_events]

def rho_cp_air(T):
    x=T*1e-3
    al=np.polyval([-1.455544e-05,8.974775e-05,-2.027127e-04,2.893092e-04,7.979120e-06,-1.326738e-06],x)
    return k_air(T)/al

def fabric(g,mm,k,kslope,role,regain,wet=None):
    """Areal density conditioned at `regain`, thickness, conductivity at 25 C and its slope; fibre of
    1400 kg/m3, 2 dtex; specific heat 1200 + 2 (T - 25 C); `wet` is regain with water added."""
    L=mm*1e-3; dry=g*1e-3/(1+regain); rho=dry/L; f=g*1e-3/(L*1400)
    if role=='felt':
        op=(1-f)**1.5; r2=2e-7/(np.pi*1400); K=4*r2/(64*f**1.5*(1+56*f**3))
    else: op=0.4*(1-f); K=1e-11
    T=373.15
    nu=np.polyval([6.639371e-06,-3.668797e-05,1.319956e-04,2.311912e-05,-2.104263e-06],T*1e-3)
    mu=nu*P*0.02896546/(8.314462618*T)
    e=min(max(D(T)*op*mu/(P*K),1e-9),0.5)
    return {'L':L,'b65':rho*regain,'held':rho*(wet if wet else regain),'por':1-f,'open':op,'e':e,'kwet':0.0,'ext':0.0,
            'k':k+kslope*(TS-298.15),'c':rho*(1200+2*(TS-298.15))}

def case(fabrics,gaps_mm,voids_um):
    """Faces of emissivity 0.9, the disc's 0.95; voids of faces add to the air between them."""
    ex=lambda a,b: 1/(1/a+1/b-1)
    air=[]
    for i in range(len(fabrics)):
        last=i+1==len(fabrics)
        d=gaps_mm[i]*1e-3+voids_um[i]*1e-6+(0 if last else voids_um[i+1]*1e-6)
        air.append([d,ex(0.9,0.95 if last else 0.9),rho_cp_air(400.0)*d])
    h=0.5*80e3/(2273.15-298.15)
    return {'slabs':fabrics,'air':air,'drive':[h,2273.15,0.5*psat(298.15),0.9*0.5*80e3,0.9,298.15,0.018*385/12.566e-4]}

CASES={
    'moist-felt': case([fabric(300,2.2,0.045,1.2e-4,'felt',0.08)],[0],[20]),
    'moist-three-ply': case([fabric(180,0.45,0.055,1e-4,'outer',0.05),fabric(100,1.2,0.038,1.5e-4,'felt',0.05),fabric(130,0.6,0.05,1e-4,'inner',0.05)],[0,0,0],[20,20,20]),
    'moist-three-ply-gaps': case([fabric(180,0.45,0.055,1e-4,'outer',0.05),fabric(100,1.2,0.038,1.5e-4,'felt',0.05),fabric(130,0.6,0.05,1e-4,'inner',0.05)],[1,4,0],[20,20,20]),
    'moist-three-ply-inner-wet': case([fabric(180,0.45,0.055,1e-4,'outer',0.05),fabric(100,1.2,0.038,1.5e-4,'felt',0.05),fabric(130*1.25/1.05,0.6,0.05,1e-4,'inner',0.25)],[1,4,0],[20,20,20]),
}
# the inner ply's 25 % are 5 % at 65 % of saturation and 20 % added: its dry mass is that of the others
CASES['moist-three-ply-inner-wet']['slabs'][2]=dict(CASES['moist-three-ply-gaps']['slabs'][2],held=CASES['moist-three-ply-gaps']['slabs'][2]['b65']*5)

def rows():
    """Case and times of each layup, extrapolated from two meshes."""
    all=[]
    for name,one in CASES.items():
        coarse,fine=[run(one,ncell=n,tend=60) for n in (20,40)]
        all.append([name]+[f"{b+(b-a)/3:.5g}" for a,b in zip(coarse,fine)])
    return all
